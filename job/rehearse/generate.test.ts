/**
 * Oracles: an independent simulation of one scene with NumPy and SciPy (reference/scene.py); laws that hold by the
 * definition of the scene; the documented roots of the bell by mpmath (in the reference by brentq).
 */
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { generate, generateSegments, type Recording } from './generate.ts'
import { samplesOf, timeOfTurn, turnsAt } from './motion.ts'
import reference from './reference/scene.json' with { type: 'json' }
import type { Fault, HoleScene, Marks } from './scene.ts'
import { flawSize } from './terms/flaw.ts'
import { full, quiet, random } from './testing/scenes.ts'

const farthest = (a: ArrayLike<number>, b: ArrayLike<number>): number => {
  let most = a.length === b.length ? 0 : Number.POSITIVE_INFINITY
  for (let i = 0; i < a.length; i++) most = Math.max(most, Math.abs(a[i]! - b[i]!))
  return most
}

const joined = (parts: readonly Float64Array[]): Float64Array => Float64Array.from(parts.flatMap((part) => [...part]))

const bytes = ({ x, y, index }: Recording): string =>
  [x, y, index].map((column) => Buffer.from(column.buffer).toString('base64')).join('|')

/** Range of a column within a revolution whose middle is nearest to a depth. */
function rangeAt(
  recording: Recording,
  scene: HoleScene,
  depth: number,
  of: 'x' | 'y'
): { least: number; most: number; at: readonly number[] } {
  const { feed } = scene.motion
  if (feed.kind !== 'constant') throw new Error('a constant feed is needed')
  const turn = feed.leadIn_turn + depth / feed.pitch_m
  const from = Math.round(timeOfTurn(scene.motion, turn - 0.5) * recording.rate_Hz)
  const to = Math.round(timeOfTurn(scene.motion, turn + 0.5) * recording.rate_Hz)
  const part = recording[of].subarray(from, to)
  const least = Math.min(...part)
  const most = Math.max(...part)
  return { least, most, at: [from + part.indexOf(least), from + part.indexOf(most)] }
}

describe('generate, against the independent simulation', () => {
  const made = generate(full, 1)
  const at = (column: Float64Array) => reference.numbers.map((i) => column[i]!)

  it('has as many samples', () => expect(made.x.length).toBe(reference.samples))
  it('has the same x', () => expect(farthest(at(made.x), reference.x)).toBeLessThan(reference.tolerance))
  it('has the same y', () => expect(farthest(at(made.y), reference.y)).toBeLessThan(reference.tolerance))
  it('has the same index', () => {
    expect(farthest(at(made.index), reference.index)).toBeLessThan(reference.tolerance)
    expect(reference.index.filter((value) => value > 0).length).toBeGreaterThan(5)
  })
  it('knows when the probe goes in and out', () => {
    expect(made.truth.entry_s).toBeCloseTo(reference.entry_s, 9)
    expect(made.truth.exit_s).toBeCloseTo(reference.exit_s, 9)
  })
})

describe('the same scene and seed', () => {
  it('give the same bytes, another seed does not', () => {
    expect(bytes(generate(random, 7))).toBe(bytes(generate(random, 7)))
    const other = generate(random, 8)
    expect(farthest(generate(random, 7).x, other.x)).toBeGreaterThan(0.01)
  })

  it('of a wall with its own pattern, the wall is the same for another seed', () => {
    const noise = { ...random.noise, inTime: false }
    const disturbances = { ...quiet.disturbances, spikes: { count: 0, size: 0 } }
    const wall = { ...random.wall, pattern: 12, wobble: { rms_m: 0, knot_turn: 1 } }
    const scene: HoleScene = { ...random, noise, disturbances, wall }
    expect(generate(scene, 1).x).toEqual(generate(scene, 2).x)
    const other = generate({ ...scene, wall: { ...wall, pattern: 13 } }, 1)
    expect(farthest(generate(scene, 1).x, other.x)).toBeGreaterThan(0.03)
  })

  it('give the same recording in segments of any length', () => {
    const whole = generate(random, 3)
    fc.assert(
      fc.property(fc.integer({ min: 37, max: 20_000 }), (size) => {
        const segments = [...generateSegments(random, 3, size)]
        expect(segments.map(({ first }) => first)).toEqual(segments.map((_, k) => k * size))
        expect(joined(segments.map(({ channels }) => channels[0]!.x))).toEqual(whole.x)
        expect(joined(segments.map(({ channels }) => channels[0]!.y))).toEqual(whole.y)
        expect(joined(segments.map(({ aux }) => aux.index!))).toEqual(whole.index)
      }),
      { numRuns: 4 }
    )
  })
})

describe('without noise in time', () => {
  const still: HoleScene = {
    ...random,
    noise: { ...random.noise, inTime: false },
    disturbances: { ...random.disturbances, spikes: { count: 0, size: 0 }, hum: { ...full.disturbances.hum, size: 0 } }
  }
  const base = generate(still, 5)

  it('the signal at common times does not depend on the sample rate', () => {
    fc.assert(
      fc.property(fc.integer({ min: 2, max: 5 }), (factor) => {
        const faster = generate({ ...still, recorder: { ...still.recorder, rate_Hz: 9000 * factor } }, 5)
        const common = base.x.map((_, i) => faster.x[i * factor]!)
        expect(farthest(base.x, common)).toBeLessThan(1e-12)
        expect(
          farthest(
            base.index,
            base.index.map((_, i) => faster.index[i * factor]!)
          )
        ).toBeLessThan(1e-9)
      }),
      { numRuns: 3 }
    )
  })

  it('another speed is the same scan stretched in time', () => {
    fc.assert(
      fc.property(fc.double({ min: 0.5, max: 2, noNaN: true }), (factor) => {
        const motion = { ...still.motion, rpm: still.motion.rpm * factor }
        const recorder = { ...still.recorder, rate_Hz: still.recorder.rate_Hz * factor }
        const other = generate({ ...still, motion, recorder }, 5)
        const length = Math.min(base.x.length, other.x.length)
        expect(Math.abs(base.x.length - other.x.length)).toBeLessThanOrEqual(1)
        expect(farthest(base.x.subarray(0, length), other.x.subarray(0, length))).toBeLessThan(1e-11)
        expect(farthest(base.y.subarray(0, length), other.y.subarray(0, length))).toBeLessThan(1e-11)
      }),
      { numRuns: 5 }
    )
  })

  it('the part turned under the index moves the index alone', () => {
    const { index } = still.recorder
    const turned = { ...index, first_turn: index.first_turn + 0.25, datum_turn: index.datum_turn + 0.25 }
    const other = generate({ ...still, recorder: { ...still.recorder, index: turned } }, 5)
    expect(farthest(base.x, other.x)).toBeLessThan(1e-11)
    expect(farthest(base.index, other.index)).toBeGreaterThan(4)
    const [a, b] = [base.truth.flaws[0]!.angle_deg, other.truth.flaws[0]!.angle_deg]
    expect((a - b + 360) % 360).toBeCloseTo(90, 9)
  })

  it('what is on the wall comes again after a revolution where the depth stays', () => {
    const points = [
      { turn: 0, z_m: -0.002 },
      { turn: 6, z_m: 0.0035 },
      { turn: 10, z_m: 0.0035 }
    ]
    const wall = { ...still.wall, wobble: { rms_m: 0, knot_turn: 1 } }
    const disturbances = { ...still.disturbances, particles: [] }
    const motion: HoleScene['motion'] = { ...still.motion, drift: [], rpm: 900, feed: { kind: 'profile', points } }
    const { x } = generate({ ...still, wall, disturbances, motion }, 5)
    expect(farthest(x.subarray(4200, 4800), x.subarray(4800, 5400))).toBeLessThan(1e-11)
    expect(Math.max(...x.subarray(4200, 4800)) - Math.min(...x.subarray(4200, 4800))).toBeGreaterThan(0.1)
  })
})

describe('laws of the signal', () => {
  const [notch] = quiet.flaws
  const middle = (notch!.z0_m + notch!.z1_m) / 2
  const fine: HoleScene = {
    ...quiet,
    motion: { ...quiet.motion, feed: { kind: 'constant', pitch_m: 0.00005, leadIn_turn: 30, leadOut_turn: 30 } },
    recorder: { ...quiet.recorder, rate_Hz: 36_000 }
  }
  const along = fine.probe.flaw.direction_rad + fine.probe.flaw.turn_rad_per_m * notch!.depth_m
  const direction = { ...fine.instrument, rotation_rad: Math.PI / 2 - along }
  const upright: HoleScene = { ...fine, instrument: direction }
  const seen = rangeAt(generate(upright, 1), upright, middle, 'y')

  it('a notch gives its declared peak-to-peak along its own direction', () => {
    expect(seen.most - seen.least).toBeCloseTo(flawSize(upright, notch!), 3)
    const across = rangeAt(generate(upright, 1), upright, middle, 'x')
    expect(across.most - across.least).toBeLessThan(1e-9)
  })

  it('its lobes lie one lobe spacing apart, the leading pick-up first', () => {
    const turns = ((seen.at[0]! - seen.at[1]!) / 36_000) * (upright.motion.rpm / 60)
    const apart = turns * Math.PI * upright.hole.diameter_m
    expect(apart / upright.probe.lobe_spacing_m).toBeGreaterThan(0.98)
    expect(apart / upright.probe.lobe_spacing_m).toBeLessThan(1.02)
  })

  it('the other sense of rotation turns the order of the lobes around', () => {
    const back: HoleScene = { ...upright, motion: { ...upright.motion, sense: -1 } }
    const { at } = rangeAt(generate(back, 1), back, middle, 'y')
    expect(at[0]! > at[1]!).toBe(seen.at[0]! > seen.at[1]!)
    expect(generate(back, 1).truth.flaws[0]!.angle_deg).toBeCloseTo(
      360 - generate(upright, 1).truth.flaws[0]!.angle_deg,
      9
    )
  })

  it('a flaw is as large as area / (area + half area) says, a crack weaker by its factor', () => {
    const half = { ...notch!, depth_m: 0.001, length_m: 0.0011 }
    expect(flawSize(quiet, half)).toBeCloseTo(1.25, 12)
    expect(flawSize(quiet, { ...half, kind: 'crack' })).toBeCloseTo(0.875, 12)
  })

  it('gain, rotation and offset act on everything alike', () => {
    const plain: HoleScene = { ...random, instrument: { gain: 1, rotation_rad: 0, offset: { x: 0, y: 0 } } }
    const a = generate(plain, 2)
    const b = generate({ ...plain, instrument: { gain: 3, rotation_rad: Math.PI / 2, offset: { x: 1, y: -2 } } }, 2)
    expect(
      farthest(
        b.x,
        a.y.map((y) => 1 - 3 * y)
      )
    ).toBeLessThan(1e-12)
    expect(
      farthest(
        b.y,
        a.x.map((x) => 3 * x - 2)
      )
    ).toBeLessThan(1e-12)
  })

  it('ovality comes twice, eccentricity once a turn, as the pair differentiates them', () => {
    // d/dθ of cos(kθ) over ±h: 2 sin(k h) by the sum formula
    const h = (0.0014 / 2 / 1.1996786402577337 / 0.0071) * 2
    const only = (wall: Partial<HoleScene['wall']>) => ({ ...quiet, flaws: [], wall: { ...quiet.wall, ...wall } })
    const range = (scene: HoleScene) => {
      const turned = { ...scene, instrument: { ...scene.instrument, rotation_rad: -scene.probe.liftoff.direction_rad } }
      const { least, most } = rangeAt(generate(turned, 1), turned, 0.003, 'x')
      return most - least
    }
    expect(range(only({ eccentricity_m: 1e-5 }))).toBeCloseTo(0.12 * 2 * 2 * Math.sin(h), 3)
    expect(range(only({ ovality_m: 1e-5 }))).toBeCloseTo(0.12 * 2 * 2 * Math.sin(2 * h), 3)
  })
})

describe('index marks', () => {
  const marked = (marks: Partial<Marks>): Float64Array => {
    const index = { ...full.recorder.index, first_turn: 0.371, rise_turn: 0, marks: { ...good, ...marks } }
    return generate({ ...quiet, recorder: { ...quiet.recorder, index } }, 1).index
  }
  const good: Marks = { none: false, lost: [], doubled: [], doubled_turn: 0.45, bounced: [], bounce_turn: 0.04 }
  const edges = (index: Float64Array): readonly number[] =>
    [...index.keys()].filter((i) => i > 0 && index[i]! > 2.5 && index[i - 1]! <= 2.5)
  /** first sample at or after the crossing, at the even speed of the quiet scene */
  const due = (turn: number): number => Math.ceil(((turn + 0.371) / (1100 / 60)) * 9000)

  it('rise at whole turns after the first', () => {
    expect(edges(marked({}))).toEqual(Array.from({ length: 31 }, (_, k) => due(k)))
  })
  it('are missing where they are lost', () => {
    expect(edges(marked({ lost: [0, 4, 5] })).slice(0, 4)).toEqual([1, 2, 3, 6].map(due))
  })
  it('come again where they are doubled or bounce', () => {
    expect(edges(marked({ doubled: [2], bounced: [3] })).slice(0, 7)).toEqual([0, 1, 2, 2.45, 3, 3.04, 4].map(due))
  })
  it('are all missing without an index', () => expect(Math.max(...marked({ none: true }))).toBe(0))

  it('follow the drift of the speed', () => {
    const { index } = generate(
      { ...full, recorder: { ...full.recorder, index: { ...full.recorder.index, marks: good } } },
      1
    )
    for (const [k, edge] of edges(index).entries()) {
      const before = turnsAt(full.motion, ((edge - 1) / 9000) * (1100 / 60))
      const after = turnsAt(full.motion, (edge / 9000) * (1100 / 60))
      expect(before < k + 0.37 + 1e-12 && after >= k + 0.37 - 1e-12).toBe(true)
    }
  })
})

describe('faults of the equipment', () => {
  const sound = generate(quiet, 1)
  const faulty = (fault: Fault) => generate({ ...quiet, fault }, 1)
  const airStep = ({ x, y }: Recording): number => Math.hypot(x[0]! - x[8000]!, y[0]! - y[8000]!)

  it('a gain change scales from its turn on', () => {
    const { x } = faulty({ kind: 'gain change', change_dB: -20, from_turn: 12 })
    const at = Math.ceil((12 / (1100 / 60)) * 9000)
    expect(farthest(x.subarray(0, at), sound.x.subarray(0, at))).toBe(0)
    expect(
      farthest(
        x.subarray(at),
        sound.x.subarray(at).map((v) => v / 10)
      )
    ).toBeLessThan(1e-14)
  })

  it('in air nothing of the hole is seen', () => {
    const { x, y } = faulty({ kind: 'in air' })
    expect(Math.max(...x) - Math.min(...x)).toBe(0)
    expect(Math.max(...y) - Math.min(...y)).toBe(0)
  })

  it('a dead channel holds its level, the other lives', () => {
    const { x, y } = faulty({ kind: 'dead channel', channel: 'y', level: 0.2 })
    expect(new Set(y)).toEqual(new Set([0.2]))
    expect(x).toEqual(sound.x)
  })

  it('half a pair steps much more from air to metal and gives a notch one lobe', () => {
    const unbalanced: HoleScene = { ...quiet, flaws: [], probe: { ...quiet.probe, imbalance: 0.1 } }
    const half = generate({ ...unbalanced, fault: { kind: 'half open' } }, 1)
    expect(airStep(half) / airStep(generate(unbalanced, 1))).toBeCloseTo(10, 6)
    const upright: HoleScene = { ...quiet, fault: { kind: 'half open' } }
    const { least, most } = rangeAt(generate(upright, 1), upright, 0.00435, 'y')
    // one bell instead of two: 1 / (2 · 0.8913) of the pair's peak-to-peak, along y; half a pitch may be missed
    const peak = (flawSize(quiet, quiet.flaws[0]!) / (2 * 0.8913)) * Math.sin(1.5 - 90 * 0.0008)
    expect(most / peak).toBeGreaterThan(0.98)
    expect(most / peak).toBeLessThan(1.0005)
    expect(least).toBeGreaterThan(-1e-6)
  })

  it('clipping cuts at the limit', () => {
    const { x } = faulty({ kind: 'clipped', limit: 0.1 })
    expect(
      farthest(
        x,
        sound.x.map((v) => Math.max(-0.1, Math.min(0.1, v)))
      )
    ).toBe(0)
    expect(x.filter((v) => Math.abs(v) === 0.1).length).toBeGreaterThan(5)
  })

  it('an offset drifts evenly', () => {
    const { x, y } = faulty({ kind: 'offset drift', x_per_s: 0.5, y_per_s: -0.25 })
    expect(x[9000]! - sound.x[9000]!).toBeCloseTo(0.5, 12)
    expect(y[9000]! - sound.y[9000]!).toBeCloseTo(-0.25, 12)
  })
})

describe('noise', () => {
  const noisy = (noise: Partial<HoleScene['noise']>): HoleScene => ({
    ...quiet,
    flaws: [],
    fault: { kind: 'none' },
    noise: { inTime: true, white: 0, band: { rms: 0, bandwidth_Hz: 900 }, wall: { rms: 0, length_m: 0.0005 }, ...noise }
  })
  const rms = (column: Float64Array): number => Math.sqrt(column.reduce((sum, v) => sum + v * v, 0) / column.length)
  const inMetal = (scene: HoleScene) => {
    const { x, y } = generate(scene, 4)
    return { x: x.subarray(5500, 9500), y: y.subarray(5500, 9500) }
  }

  it('white noise has its rms and no memory', () => {
    const { x, y } = inMetal(noisy({ white: 0.02 }))
    expect(rms(x)).toBeGreaterThan(0.0193)
    expect(rms(x)).toBeLessThan(0.0207)
    const next = x.subarray(0, -1).reduce((sum, v, i) => sum + v * x[i + 1]!, 0) / (x.length * rms(x) ** 2)
    const cross = x.reduce((sum, v, i) => sum + v * y[i]!, 0) / (x.length * rms(x) * rms(y))
    // four standard deviations of a correlation over 4000 values
    expect(Math.abs(next)).toBeLessThan(0.064)
    expect(Math.abs(cross)).toBeLessThan(0.064)
  })

  it('band-limited noise has its rms and moves little between samples', () => {
    const { x } = inMetal(noisy({ band: { rms: 0.02, bandwidth_Hz: 450 } }))
    expect(rms(x)).toBeGreaterThan(0.0175)
    expect(rms(x)).toBeLessThan(0.0225)
    const steps = x.subarray(0, -1).map((v, i) => x[i + 1]! - v)
    expect(rms(steps) / rms(x)).toBeLessThan(0.25)
  })

  it('noise on the wall has its rms', () => {
    const { x, y } = inMetal(noisy({ wall: { rms: 0.02, length_m: 0.0005 } }))
    for (const column of [x, y]) {
      expect(rms(column)).toBeGreaterThan(0.015)
      expect(rms(column)).toBeLessThan(0.025)
    }
  })

  it('spikes are one to three samples long and as many as declared', () => {
    const spiked = { ...noisy({}), disturbances: { ...quiet.disturbances, spikes: { count: 5, size: 50 } } }
    const { x, y } = generate(spiked, 4)
    const plain = generate(noisy({}), 4)
    const hit = [...x.keys()].filter((i) => Math.hypot(x[i]! - plain.x[i]!, y[i]! - plain.y[i]!) > 49)
    const runs = hit
      .filter((i) => !hit.includes(i - 1))
      .map((i) => [0, 1, 2, 3].filter((k) => hit.includes(i + k)).length)
    expect(runs.length).toBe(5)
    expect(Math.max(...runs)).toBeLessThanOrEqual(3)
  })
})

describe('scenes that describe no recording', () => {
  const feed = full.motion.feed
  it.each<[string, HoleScene]>([
    ['no diameter', { ...full, hole: { ...full.hole, diameter_m: 0 } }],
    [
      'a standing probe',
      { ...full, motion: { ...full.motion, drift: [{ share: 1, cycles_per_turn: 1, phase_turn: 0 }] } }
    ],
    [
      'no advance',
      { ...full, motion: { ...full.motion, feed: { ...feed, kind: 'constant', pitch_m: 0 } as typeof feed } }
    ],
    [
      'a profile of one point',
      { ...full, motion: { ...full.motion, feed: { kind: 'profile', points: [{ turn: 0, z_m: 0 }] } } }
    ]
  ])('%s', (_, scene) => expect(() => generate(scene, 1)).toThrow(RangeError))

  it('has a sample at least in every segment', () =>
    expect(() => [...generateSegments(full, 1, 0)]).toThrow(RangeError))
  it('ends before the last turn is complete', () => {
    const last = samplesOf(full) - 1
    const turns = (i: number) => turnsAt(full.motion, (i / 9000) * (1100 / 60))
    expect(turns(last)).toBeLessThan(31)
    expect(turns(last + 1)).toBeGreaterThanOrEqual(31 - 1e-9)
  })
})
