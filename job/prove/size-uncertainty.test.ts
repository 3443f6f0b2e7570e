import { cos, log, PI, randomFrom } from '@trueloop/ground/numerics'
import { isRefusal } from '@trueloop/ground/refusal'
import { describe, expect, it } from 'vitest'
import { type SizeUncertainty, type SizeUncertaintyAsked, sizeUncertainty } from './index.ts'
import reference from './reference/size-uncertainty.json' with { type: 'json' }

/** Oracle: R 4.2.2 (reference/size-uncertainty.json). */

const known = (name: string, value: number, uncertainty: number, dof: number | null = null) => ({
  ...{ name, basis: 'invented' },
  known: { law: 'normal', value, uncertainty, dof } as const
})

const asked: SizeUncertaintyAsked = {
  ...{ kind: 'size-uncertainty', version: 1, name: 'depth' },
  amplitude: known('A', 1.2, 0.05, 9),
  factors: [{ name: 'kL', basis: 'invented', known: { law: 'rectangular', lower: 0.92, upper: 1.08 } }],
  constant: known('C', 1.8, 0.03, 18),
  exponent: known('m', 0.9, 0.02, 18),
  ...{ correlation: 0, corrections_mm: [], confidence: 0.95, digits: 2, mostDraws: 100_000, seed: 'trial' }
}

const code = (value: unknown): string => (isRefusal(value) ? value.code : 'answered')

function answer(change: Partial<SizeUncertaintyAsked> = {}): SizeUncertainty {
  const result = sizeUncertainty({ ...asked, ...change }, randomFrom)
  if (isRefusal(result)) throw new Error(`${result.code}: ${result.found}`)
  return result
}

const near = (got: number | undefined, expected: number, at: string, within = reference.tolerance): void =>
  expect(Math.abs((got ?? Number.NaN) / expected - 1), `${at}: ${got} for ${expected}`).toBeLessThanOrEqual(within)

describe('uncertainty of a size', () => {
  it('budget and factor by propagation', () => {
    const got = answer()
    near(got.size_mm, reference.gum.d, 'size')
    near(got.combined_mm, reference.gum.u_c, 'combined')
    near(got.dof, reference.gum.effective_dof, 'dof')
    expect(isRefusal(got.propagated) ? 0 : got.propagated.factor).toBeCloseTo(reference.gum.k95, 9)
    for (const { name, contribution, share, sensitivity } of got.budget) {
      near(sensitivity, reference.gum.sensitivity[name as 'A'], name)
      near(contribution, reference.gum.contribution[name as 'A'], name)
      near(100 * share, reference.gum.budget_pct[name as 'A'], name)
    }
  })
  it('states the interval by draws, since the law is too bent for the straight one', () => {
    const got = answer({ mostDraws: 4_000_000 })
    expect([got.isStraight, got.stated.by, got.drawn.isSettled]).toEqual([false, 'draws', true])
    near(got.stated.lower_mm, reference.draws.sym95_jcgm101[0]!, 'lower', 0.002)
    near(got.stated.upper_mm, reference.draws.sym95_jcgm101[1]!, 'upper', 0.002)
    expect(got.drawn.unrest.lower).toBeLessThanOrEqual(got.drawn.tolerance)
  }, 60_000)
  it('is the same for the same seed, plain data, and says when it did not settle', () => {
    expect(JSON.parse(JSON.stringify(answer()))).toEqual(answer())
    expect(answer({ seed: 'other' }).drawn.mean).not.toBe(answer().drawn.mean)
    expect(answer({ mostDraws: 20_000 }).stated.isSettled).toBe(false)
  })
  it('ties constant and exponent; corrections add to the size', () => {
    const tied = answer({ correlation: -0.6 })
    near(tied.combined_mm, reference.gum['u_c_with_r_C_m_minus0.6'], 'combined')
    expect(code(tied.propagated)).toBe('prove/not-a-measurement')
    expect(tied.stated.by).toBe('draws')
    const corrected = answer({ corrections_mm: [known('notch', 0.02, 0.1)] })
    near(corrected.size_mm, reference.gum.d + 0.02, 'size')
    near(corrected.combined_mm, Math.sqrt(reference.gum.u_c ** 2 + 0.01), 'combined')
  })
  it('states the straight interval where it holds', () => {
    const small = answer({
      amplitude: known('A', 1.2, 0),
      factors: [],
      constant: known('C', 1.8, 0),
      exponent: known('m', 0.9, 0),
      ...{ corrections_mm: [known('reading', 0, 0.05)], digits: 1 as const, mostDraws: 1_000_000 }
    })
    expect([small.isStraight, small.stated.by]).toEqual([true, 'propagation'])
    near(small.stated.upper_mm - small.size_mm, 1.959963984540054 * 0.05, 'normal', 1e-8)
  })
  it('draws by whatever it is given', () => {
    let state = 31415
    const uniform = (): number => {
      state = (16807 * state) % 2147483647
      return state / 2147483647
    }
    const draws = { uniform, normal: () => Math.sqrt(-2 * log(uniform())) * cos(2 * PI * uniform()) }
    // the portable generator in the order of the reference: A, C, m, kL
    const got = sizeUncertainty({ ...asked, mostDraws: 20_000 }, () => draws)
    expect(isRefusal(got) ? 0 : got.drawn.first[0]).toBeCloseTo(0.697049560635687, 12)
  })
  it('refuses what is no measurement', () => {
    const refused = (change: object): string => code(sizeUncertainty({ ...asked, ...change }, randomFrom))
    expect(refused({ amplitude: known('A', 0.1, 0.2) })).toBe('prove/not-a-measurement')
    expect(refused({ constant: known('A', 1.8, 0.03) })).toBe('prove/not-a-measurement')
    const turned = { name: 'k', basis: 'invented', known: { law: 'rectangular', lower: 1.1, upper: 0.9 } }
    expect(refused({ factors: [turned] })).toBe('prove/not-a-measurement')
    expect(refused({ digits: 3 })).toBe('prove/bad-question')
    expect(refused({ amplitude: known('A', Number.NaN, 0.2) })).toBe('prove/bad-question')
  })
})
