/**
 * Oracles: an independent simulation with NumPy and SciPy of one scene that has every new term, and filters by SciPy's
 * butter and lfilter (reference/troubles.py); laws of each term by its definition.
 */
import { describe, expect, it } from 'vitest'
import { generate } from './generate.ts'
import reference from './reference/troubles.json' with { type: 'json' }
import type { HoleScene } from './scene.ts'
import { truthOf } from './truth.ts'

const farthest = (a: ArrayLike<number>, b: ArrayLike<number>): number => {
  let most = a.length === b.length ? 0 : Number.POSITIVE_INFINITY
  for (let i = 0; i < a.length; i++) most = Math.max(most, Math.abs(a[i]! - b[i]!))
  return most
}

describe('a scene with every trouble, against the independent simulation', () => {
  const made = generate(reference.scene as unknown as HoleScene, 1)
  const at = (column: Float64Array) => reference.numbers.map((i) => column[i]!)

  it('has as many samples', () => expect(made.x.length).toBe(reference.samples))
  it('has the same x', () => expect(farthest(at(made.x), reference.x)).toBeLessThan(reference.tolerance))
  it('has the same y', () => expect(farthest(at(made.y), reference.y)).toBeLessThan(reference.tolerance))
})

const full = reference.scene as unknown as HoleScene

/** Its terms alone, in a still and even world: nothing but what is asked for. */
const still: HoleScene = {
  ...full,
  hole: { diameter_m: full.hole.diameter_m, grip_m: full.hole.grip_m, entry: full.hole.entry, exit: full.hole.exit },
  probe: { ...bare(full.probe), imbalance: 0 },
  instrument: { gain: 1, rotation_rad: 0, offset: { x: 0, y: 0 } },
  wall: { ...full.wall, eccentricity_m: 0, ovality_m: 0 },
  joints: [],
  flaws: [],
  damage: [],
  features: [],
  disturbances: { ...full.disturbances, particles: [], hum: { ...full.disturbances.hum, size: 0 } }
}

function bare({ axial_lobes_m: _, tilt: __, ...probe }: HoleScene['probe']): HoleScene['probe'] {
  return probe
}

const difference = (a: HoleScene, b: HoleScene): Float64Array => {
  const [one, other] = [generate(a, 3), generate(b, 3)]
  const out = new Float64Array(2 * one.x.length)
  out.set(
    one.x.map((value, i) => value - other.x[i]!),
    0
  )
  out.set(
    one.y.map((value, i) => value - other.y[i]!),
    one.x.length
  )
  return out
}

describe('what is neutral', () => {
  const gap = { oversize_m: 0, countersink: { depth_m: 0, half_angle_rad: 0.8 }, decay_m: 0.001 }
  const base: HoleScene = { ...still, flaws: full.flaws.slice(0, 1).map((flaw) => ({ ...flaw, scatter: 1 })) }
  const { scatter: _, ...plainFlaw } = base.flaws[0]!
  const { features: __, ...bareScene } = { ...base, flaws: [plainFlaw] }
  const zero = <T extends { readonly size: number }>(all: readonly T[] | undefined): T[] =>
    (all ?? []).map((one) => ({ ...one, size: 0 }))
  it.each<[string, HoleScene]>([
    ['no features', base],
    ['no gap', { ...base, hole: { ...base.hole, gap } }],
    ['no lobes along the axis', { ...base, probe: { ...base.probe, axial_lobes_m: 0 } }],
    ['no tilt', { ...base, probe: { ...base.probe, tilt: { liftoff_m: 0, wall_turn: 0.2, imbalance: 0 } } }],
    ['no filters', { ...base, instrument: { ...base.instrument, filters: [] } }],
    [
      'no bursts',
      {
        ...base,
        disturbances: { ...base.disturbances, bursts: { count: 0, size: 1, length_s: 0.01, frequency_Hz: 400 } }
      }
    ],
    ['no outages', { ...base, fault: { kind: 'intermittent cable', outages: [] } }],
    ['features and damage of no size', { ...base, features: zero(full.features), damage: zero(full.damage) }]
  ])('changes nothing: %s', (_name, scene) => {
    expect(generate(scene, 3).x).toEqual(generate(bareScene, 3).x)
    expect(generate(scene, 3).y).toEqual(generate(bareScene, 3).y)
  })
})

describe('every term', () => {
  it('is added to the others: the change is the sum of the changes', () => {
    const scenes: HoleScene[] = [
      ...full.damage.map((one) => ({ ...still, damage: [one] })),
      ...(full.features ?? []).map((one) => ({ ...still, features: [one] })),
      ...full.flaws.map((one) => ({ ...still, flaws: [one] }))
    ]
    const together: HoleScene = { ...still, damage: full.damage, features: full.features ?? [], flaws: full.flaws }
    const sum = difference(together, still)
    for (const scene of scenes) {
      const one = difference(scene, still)
      for (let i = 0; i < sum.length; i++) sum[i]! -= one[i]!
    }
    expect(farthest(sum, new Float64Array(sum.length))).toBeLessThan(1e-12)
  })

  it('shows in the recording, but for what a balanced pair can not see', () => {
    const seen = (scene: HoleScene): number => Math.max(...difference(scene, still).map(Math.abs))
    for (const one of full.damage) expect(seen({ ...still, damage: [one] }), one.kind).toBeGreaterThan(0.2)
    const blind = ['cladding', 'neighbor metal']
    for (const one of full.features ?? []) {
      const most = seen({ ...still, features: [one] })
      if (blind.includes(one.kind)) expect(most, one.kind).toBeLessThan(0.02)
      else expect(most, one.kind).toBeGreaterThan(0.05)
    }
  })
})

describe('the double maximum of a split pair', () => {
  const slow: HoleScene['motion'] = {
    ...still.motion,
    feed: { kind: 'constant', pitch_m: 0.00004, leadIn_turn: 20, leadOut_turn: 20 }
  }
  const probe = { ...still.probe, axial_lobes_m: 0.0018, footprint_m: 0.0007 }
  const [notch] = full.flaws
  const flawAt = (z0_m: number, length_m: number) => ({ ...notch!, scatter: 1, z0_m, z1_m: z0_m + length_m, length_m })
  const alongAxis = (z0_m: number, length_m: number, lobed = true) => {
    const { entry, exit } = still.hole
    const hole = { ...still.hole, entry: { ...entry, tilt_m: 0 }, exit: { ...exit, tilt_m: 0 } }
    const scene = { ...still, hole, motion: slow, probe: lobed ? probe : bare(probe), flaws: [flawAt(z0_m, length_m)] }
    const { y, rate_Hz } = generate(scene, 1)
    const perTurn = (rate_Hz * 60) / slow.rpm
    const turns = Math.floor(y.length / perTurn) - 1
    const swing = Array.from({ length: turns }, (_, k) => {
      const part = y.subarray(Math.round(k * perTurn), Math.round((k + 1) * perTurn))
      return Math.max(...part) - Math.min(...part)
    })
    return { most: Math.max(...swing), depths: maxima(swing).map((k) => 0.00004 * (k + 0.5 - 20)) }
  }

  /** Places of maxima with a valley of 2 % of the largest between them. */
  function maxima(swing: readonly number[]): readonly number[] {
    const least = 0.02 * Math.max(...swing)
    const found: number[] = []
    let [peak, valley] = [0, 0]
    for (const [k, value] of swing.entries()) {
      if (value > swing[peak]!) peak = k
      if (swing[peak]! - value > least && swing[peak]! - swing[valley]! > least) {
        found.push(peak)
        valley = k
        peak = k
      } else if (value < swing[valley]!) {
        valley = k
        peak = k
      }
    }
    return found
  }

  it('comes at mid-bore, as far apart as the ends of the pair', () => {
    const { depths } = alongAxis(0.0028, 0.0004)
    expect(depths.length).toBe(2)
    expect(depths[1]! - depths[0]!).toBeGreaterThan(0.0017)
    expect(depths[1]! - depths[0]!).toBeLessThan(0.0019)
    expect((depths[0]! + depths[1]!) / 2).toBeCloseTo(0.003, 4)
  })
  it('does not come at a corner, nor for a flaw that is long against the pair, nor without ends', () => {
    expect(alongAxis(0, 0.0008).depths.length).toBe(1)
    expect(alongAxis(0.0052, 0.0008).depths.length).toBe(1)
    expect(alongAxis(0.0012, 0.0036).depths.length).toBe(1)
    expect(alongAxis(0.0028, 0.0004, false).depths.length).toBe(1)
  })
  it('leaves the declared peak-to-peak as it is', () => {
    expect(alongAxis(0.0028, 0.0004).most / alongAxis(0.0028, 0.0004, false).most).toBeCloseTo(1, 2)
  })
})

describe('a probe that does not fit', () => {
  const flaws = full.flaws.slice(0, 1)
  const withGap = (oversize_m: number, depth_m: number): HoleScene => ({
    ...still,
    flaws,
    hole: { ...still.hole, gap: { oversize_m, countersink: { depth_m, half_angle_rad: Math.PI / 4 }, decay_m: 0.001 } }
  })
  const swingOf = ({ x, y }: { x: Float64Array; y: Float64Array }) =>
    Math.max(...x) - Math.min(...x) + Math.max(...y) - Math.min(...y)

  it('loses its answer by e every decay length of an oversize', () => {
    const ratio = swingOf(generate(withGap(0.0005, 0), 1)) / swingOf(generate(withGap(0, 0), 1))
    expect(ratio).toBeCloseTo(Math.exp(-0.5), 9)
  })
  it('sees a countersink as a gap that ends at its depth', () => {
    const [cone, none] = [generate(withGap(0, 0.001), 1), generate(withGap(0, 0), 1)]
    const perTurn = (60 * cone.rate_Hz) / still.motion.rpm
    const below = Math.ceil((6 + 0.001 / 0.0003) * perTurn) + 1
    expect(farthest(cone.x.subarray(below), none.x.subarray(below))).toBe(0)
    const unbalanced = (scene: HoleScene) => ({ ...scene, flaws: [], probe: { ...scene.probe, imbalance: 0.2 } })
    const at = Math.round((6 + 0.0005 / 0.0003) * perTurn)
    const air = generate({ ...unbalanced(withGap(0, 0)), fault: { kind: 'in air' } }, 1)
    const [coneSeen, wallSeen] = [withGap(0, 0.001), withGap(0, 0)].map((scene) => generate(unbalanced(scene), 1))
    const toAir = (one: { x: Float64Array; y: Float64Array }) =>
      Math.hypot(one.x[at]! - air.x[at]!, one.y[at]! - air.y[at]!)
    // 45°: at 0.5 mm the gap is 0.5 mm, half a decay length
    expect(toAir(coneSeen!) / toAir(wallSeen!)).toBeCloseTo(Math.exp(-0.5), 3)
  })
  it('askew shows lift-off once a turn in the pair, all along', () => {
    const tilted = { ...still, probe: { ...still.probe, tilt: { liftoff_m: 1e-5, wall_turn: 0.1, imbalance: 0 } } }
    const { x, rate_Hz } = generate(tilted, 1)
    const perTurn = (60 * rate_Hz) / still.motion.rpm
    for (const z of [0.002, 0.003, 0.004]) {
      const from = Math.round((6 + z / 0.0003) * perTurn)
      const turn = x.subarray(from, from + Math.round(perTurn))
      const expected = 2 * still.probe.liftoff.per_m * 1e-5 * Math.abs(Math.cos(still.probe.liftoff.direction_rad))
      expect(Math.max(...turn) - Math.min(...turn)).toBeCloseTo(expected, 3)
    }
  })
})

describe('what passes', () => {
  const bursts = { count: 5, size: 0.8, length_s: 0.02, frequency_Hz: 700 }
  const burst: HoleScene = { ...still, disturbances: { ...still.disturbances, bursts } }

  it('bursts are as many, as long and as high as declared, and come from the seed', () => {
    const made = difference(burst, still)
    const [x, y] = [made.subarray(0, made.length / 2), made.subarray(made.length / 2)]
    const size = x.map((value, i) => Math.hypot(value, y[i]!))
    expect(Math.max(...size)).toBeGreaterThan(0.36)
    expect(Math.max(...size)).toBeLessThanOrEqual(0.8)
    const busy = size.filter((value) => value > 1e-9).length
    expect(busy).toBeLessThanOrEqual(5 * 0.02 * 9000)
    expect(busy).toBeGreaterThan(2 * 0.02 * 9000)
    expect(farthest(generate(burst, 3).x, generate(burst, 4).x)).toBeGreaterThan(0.1)
  })

  it('a cable that is away leaves the offset', () => {
    const outages = [
      { from_turn: 7, turns: 0.5 },
      { from_turn: 12, turns: 2 }
    ]
    const scene: HoleScene = {
      ...full,
      instrument: { gain: 2, rotation_rad: 1, offset: { x: 0.3, y: -0.1 } },
      fault: { kind: 'intermittent cable', outages }
    }
    const [made, sound] = [generate(scene, 1), generate({ ...scene, fault: { kind: 'none' } }, 1)]
    const turnOf = (i: number) => ((i / 9000) * 1100) / 60
    const away = (i: number) =>
      outages.some((one) => turnOf(i) >= one.from_turn && turnOf(i) < one.from_turn + one.turns)
    for (let i = 0; i < made.x.length; i++) {
      expect(made.x[i]).toBe(away(i) ? 0.3 : sound.x[i])
      expect(made.y[i]).toBe(away(i) ? -0.1 : sound.y[i])
    }
  })
})

describe('filters of the instrument', () => {
  it('act on the recording as on any signal: a sum of signals gives the sum of answers', () => {
    const filters = full.instrument.filters ?? []
    const with_ = (scene: HoleScene): HoleScene => ({ ...scene, instrument: { ...scene.instrument, filters } })
    const one = { ...still, flaws: full.flaws }
    const other = { ...still, damage: full.damage }
    const both = { ...one, ...{ damage: full.damage } }
    const sum = difference(with_(both), with_(still))
    const parts = [one, other].map((scene) => difference(with_(scene), with_(still)))
    for (let i = 0; i < sum.length; i++) sum[i]! -= parts[0]![i]! + parts[1]![i]!
    expect(farthest(sum, new Float64Array(sum.length))).toBeLessThan(1e-12)
  })
  it('have a corner between zero and half the rate', () => {
    const filters = [{ kind: 'low-pass', order: 1, corner_Hz: 4500 }] as const
    expect(() => generate({ ...still, instrument: { ...still.instrument, filters } }, 1)).toThrow(RangeError)
  })
})

describe('the truth', () => {
  const scene: HoleScene = {
    ...full,
    recorder: { ...full.recorder, index: { ...full.recorder.index, datum_turn: 0 } },
    disturbances: {
      ...full.disturbances,
      bursts: { count: 2, size: 1, length_s: 0.01, frequency_Hz: 500 }
    }
  }
  const found = (kind: string) => truthOf(scene).nuisances.filter((one) => one.kind === kind)

  it('names every trouble', () => {
    const kinds = truthOf(scene).nuisances.map(({ kind }) => kind)
    const due = ['pit', 'burr', ...(scene.features ?? []).map(({ kind }) => kind)]
    expect(kinds).toEqual(expect.arrayContaining([...due, 'bursts', 'probe tilt', 'oversize hole', 'countersink']))
  })
  it('has their places: an angle where they have one, depths where they end', () => {
    expect(found('split line')[0]).toEqual({ kind: 'split line', angle_deg: 54, z0_mm: 2.5, z1_mm: 6 })
    expect(found('bushing')[0]).toEqual({ kind: 'bushing', z0_mm: 2.5, z1_mm: 6 })
    expect(found('neighbor metal')[0]!.z1_mm).toBeCloseTo(3.2, 12)
    expect(found('neighbor metal')[0]!.z0_mm).toBeCloseTo(2.5, 12)
    expect(found('sealant')[0]!.angle_deg).toBeCloseTo(324, 9)
    expect(found('sealant')[0]!.z0_mm).toBeCloseTo(2.35, 12)
    expect(found('countersink')[0]!.z1_mm).toBeCloseTo(0.9, 12)
    expect(found('probe tilt')[0]).toEqual({ kind: 'probe tilt' })
  })
  it('turns their angles with the sense of rotation', () => {
    const back = truthOf({ ...scene, motion: { ...scene.motion, sense: -1 } })
    expect(back.nuisances.find(({ kind }) => kind === 'pit')!.angle_deg).toBeCloseTo(360 - 108, 9)
  })
})
