/**
 * Oracle: what is true of a generated hole (how wide it really is, what is in it), the rule exp(-3.7 S / r) by hand, and the
 * same hole without a preparation. The demonstration's standard has a hole of 6.35 mm.
 */
import { describe, expect, it } from 'vitest'
import type { HoleTechnique } from '../plan/index.ts'
import { generate } from '../rehearse/index.ts'
import { codesOf, demoStandardization, examine, hole, sceneOf, technique } from './testing/hole.ts'

const { diameter_mm: standard_mm } = demoStandardization()

const preparation = (wider_mm: number, change = {}) => ({
  cleaned: { by: 'C', on: '2026-03-14' },
  deburred: 'not needed' as const,
  visual: 'nothing',
  measured_diameter_mm: standard_mm + wider_mm,
  out_of_round_mm: 0,
  gauge: 'bore gauge 7',
  gauge_uncertainty_mm: 0.005,
  measured: { by: 'C', on: '2026-03-14' },
  ...change
})

const coil = { probe: { mean_coil_radius_mm: 0.5, fit: 'fixed diameter' } } as const
const allowed: Partial<HoleTechnique> = { ...coil, oversize: { max_loss_dB: 20 } }

const FLAWED = 'hole-P02'
const recorded = generate(sceneOf(FLAWED), 4)

const of = (wider_mm: number, change: Partial<HoleTechnique> = allowed, more = {}) =>
  examine(recorded, { technique: change, hole: { preparation: preparation(wider_mm, more) } }).examination

const plain = examine(recorded).examination

const states = (zones: readonly { readonly state: string }[]) => [...new Set(zones.map(({ state }) => state))]

describe('nothing changes', () => {
  it.each([
    ['in a hole of the standard’s diameter', 0],
    ['as far as the gauge may be off', 0.005],
    ['in a narrower hole, whose answers are larger', -0.02]
  ])('%s', (_, wider_mm) => expect(of(wider_mm)).toEqual(plain))

  it('without a preparation, whatever the technique says of its probe', () => {
    expect(examine(recorded, { technique: allowed }).examination).toEqual(plain)
  })

  it('in a hole that was not measured', () => {
    const { cleaned, deburred, visual } = preparation(0)
    const bare = examine(recorded, { technique: {}, hole: { preparation: { cleaned, deburred, visual } } })
    expect(bare.examination).toEqual(plain)
  })

  it('but what is said, where an oversize hole has shown it to be harmless, or the probe follows the wall', () => {
    const harmless = of(0.04, { oversize: { shown_harmless_to_mm: 0.05, source: 'standard R-2' } })
    const follows = of(0.04, { ...allowed, probe: { mean_coil_radius_mm: 0.5, fit: 'follows the wall' } })
    for (const one of [harmless, follows]) {
      const { oversize: _, notes, ...rest } = one
      const { notes: before, ...same } = plain
      expect(rest).toEqual(same)
      expect(notes).toEqual([...before, expect.stringMatching(/^oversize .*left as they are/)])
    }
    expect(harmless.notes.at(-1)).toContain('standard R-2')
    expect(follows.oversize?.loss_dB).toEqual({ centered: 0, most: 0 })
  })
})

describe('a hole that is not examined', () => {
  it.each<[string, Partial<HoleTechnique>, number, string]>([
    ['examine/oversize-without-limit', {}, 0.02, 'what the technique says'],
    ['examine/oversize-without-limit', coil, 0.02, 'what the technique says'],
    ['examine/oversize-beyond-limit', { ...coil, oversize: { max_loss_dB: 1 } }, 0.02, 'at most 1 dB'],
    ['examine/oversize-beyond-limit', { oversize: { shown_harmless_to_mm: 0.05, source: 'R-2' } }, 0.046, '0.05 mm']
  ])('%s: %o', (code, change, wider_mm, needed) => {
    const examination = of(wider_mm, change)
    expect(codesOf(examination)).toContain(code)
    expect(examination.refusals.find((one) => one.code === code)?.needed).toContain(needed)
    expect(states(examination.zones)).toEqual(['not examined'])
    for (const { why } of examination.zones) expect(why.join()).toContain('wider than that of the standard')
    expect(examination.indications.length).toBeGreaterThanOrEqual(plain.indications.length)
    for (const { size, proposal } of examination.indications) {
      expect(size).toMatchObject({ depth: 'withheld', extent: 'withheld' })
      expect(proposal).toMatch(/^no proposal: /)
    }
  })

  it('counts the tolerance of the standard’s hole with the doubt of the gauge', () => {
    const run = (standardTolerance_mm: number) =>
      codesOf(examine(recorded, { hole: { preparation: preparation(0.02) }, standardTolerance_mm }).examination)
    expect(run(0.01)).toContain('examine/oversize-without-limit')
    expect(run(0.015)).not.toContain('examine/oversize-without-limit')
  })

  it('says so zone by zone, where the flaw sought would not be found', () => {
    const loud = (factor: number) => {
      const standardization = demoStandardization()
      const { joinedNoise, sizeNoise } = standardization
      const louder = <T extends { xx: number; xy: number; yy: number }>(noise: T): T => ({
        ...noise,
        xx: factor * noise.xx,
        xy: factor * noise.xy,
        yy: factor * noise.yy
      })
      return { ...standardization, sizeNoise: louder(sizeNoise!), joinedNoise: louder(joinedNoise!) }
    }
    const technique_ = { ...allowed, target_flaw_mm: { depth: 0.25, length: 0.4 } }
    const change = { technique: technique_, hole: { preparation: preparation(0.12) } }
    const { examination } = examine(recorded, { ...change, standardization: loud(6) })
    expect(codesOf(examination)).toContain('examine/oversize-hides-flaw')
    const hidden = examination.zones.filter(({ why }) => why.some((one) => one.startsWith('oversize:')))
    expect(hidden.length).toBeGreaterThan(0)
    expect(states(hidden)).toEqual(['not examined'])
    expect(hidden[0]!.why.join()).toMatch(/would show 0\.\d+ of the named notch .* 0\.\d+ is found nine times in ten/)
    const same = examine(recorded, {
      ...change,
      hole: { preparation: preparation(0) },
      standardization: loud(6)
    }).examination
    expect(codesOf(same)).not.toContain('examine/oversize-hides-flaw')
  })
})

describe('a hole that is examined with a loss', () => {
  const wide = of(0.04)
  /** by hand: S = 0.04 + 0.005 mm, r = 0.5 mm */
  const least = Math.exp((-3.7 * 0.045) / 0.5)

  it('says how large it is, in figures', () => {
    expect(states(wide.zones)).toEqual(states(plain.zones))
    expect(wide.oversize?.loss_dB?.centered).toBeCloseTo(1.0423, 3)
    expect(wide.oversize?.loss_dB?.most).toBeCloseTo(-20 * Math.log10(least), 9)
    expect(wide.oversize).toMatchObject({ gauge: 'bore gauge 7', wider_m: expect.closeTo(4e-5, 12) })
    expect(wide.notes.at(-1)).toMatch(/0\.040 mm wider .* 1\.0 dB \(0\.0 to 2\.9 dB\); the alarm level is lowered to/)
    for (const { evidence } of wide.indications) {
      expect(evidence.at(-1)).toMatchObject({ what: 'oversize', speaks: 'neither' })
    }
  })

  it('lowers the alarm level by the largest loss, and never the threshold of the noise', () => {
    expect(wide.noise!.alarm).toBeCloseTo(plain.noise!.alarm * least, 12)
    expect(wide.noise!.matched).toBe(plain.noise!.matched)
    expect(wide.noise!.threshold).toBe(plain.noise!.threshold)
    expect(of(0.08).noise!.alarm).toBeLessThan(wide.noise!.alarm)
  })

  it('keeps every crossing of the technique’s own alarm, and measures as before', () => {
    for (const one of plain.indications) {
      const again = wide.indications.find(({ ruler }) => Math.abs(ruler - one.ruler) < 0.01)
      expect(again).toMatchObject({ amplitude: one.amplitude, matched: one.matched, measured: one.measured! })
      if (one.crossedAlarm) expect(again!.crossedAlarm).toBe(true)
    }
  })

  it('widens every size upward and never makes one smaller, the more the wider the hole', () => {
    const farther = of(0.08)
    const sized = plain.indications.filter(({ size }) => size.depth_mm !== undefined)
    expect(sized.length).toBeGreaterThan(0)
    for (const one of sized) {
      const [a, b] = [wide, farther].map(
        ({ indications }) => indications.find(({ ruler }) => Math.abs(ruler - one.ruler) < 0.01)!.size
      )
      expect(a!.depth_mm ?? Number.POSITIVE_INFINITY).toBeGreaterThanOrEqual(one.size.depth_mm!)
      expect(a!.lower_mm!).toBeLessThanOrEqual(one.size.lower_mm!)
      const upper = (size: typeof a) => size?.upper_mm ?? Number.POSITIVE_INFINITY
      expect(upper(a)).toBeGreaterThanOrEqual(upper(one.size))
      expect(upper(b)).toBeGreaterThanOrEqual(upper(a))
      expect(a!.depth).toContain('with nothing taken')
    }
  })
})

describe('proof of contact', () => {
  const scene = sceneOf(FLAWED)
  const gap = { oversize_m: 5e-5, countersink: { depth_m: 0, half_angle_rad: 0.8 }, decay_m: 0.5e-3 / 3 }
  const far = generate({ ...scene, hole: { ...scene.hole, gap } }, 4)

  it('lets the steps be smaller by the loss at most, and by nothing where the hole was not measured', () => {
    const measured = examine(far, { technique: allowed, hole: { preparation: preparation(0.1) } }).examination
    expect(codesOf(measured)).not.toContain('examine/contact-differs')
    expect(codesOf(examine(far).examination)).toContain('examine/contact-differs')
  })

  it('still refuses what no loss explains', () => {
    const quarter = { ...far, x: far.x.map((v) => 0.25 * v), y: far.y.map((v) => 0.25 * v) }
    const { examination } = examine(quarter, { technique: allowed, hole: { preparation: preparation(0.06) } })
    expect(codesOf(examination)).toContain('examine/contact-differs')
  })
})

it('is no case of the demonstration: its hole has the diameter of the standard', () => {
  expect(hole.diameter_mm).toBe(standard_mm)
  expect(technique.oversize).toBeUndefined()
})
