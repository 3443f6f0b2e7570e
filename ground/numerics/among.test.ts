import { describe, expect, it } from 'vitest'
import { isRefusal } from '../refusal/index.ts'
import { hermiteRule } from './hermite.ts'
import * as n from './index.ts'
import reference from './reference/among.json' with { type: 'json' }

/** Oracle: glmer of lme4 in R 4.2.2 (reference/among.json); moments of the normal law for the rule. */

const sound = <T>(value: T): Exclude<T, { refused: true }> => {
  if (isRefusal(value)) throw new Error(`${value.code}: ${value.found}`)
  return value as Exclude<T, { refused: true }>
}

const near = (got: number, expected: number, at: string, within = reference.tolerance): void =>
  expect(Math.abs(got / expected - 1), `${at}: ${got} for ${expected}`).toBeLessThanOrEqual(within)

const rowsOf = ({ size, hits }: { size: number[]; hits: number[] }): n.BinaryRows => ({
  x: size.map(n.log),
  hits,
  trials: hits.map(() => 1)
})

describe('Gauss-Hermite rule', () => {
  it('has the moments of e^(-t^2): (2k - 1)!!/2^k sqrt(pi)', () => {
    for (const count of [2, 7, 25, 60]) {
      const { nodes, weights } = hermiteRule(count)
      expect(nodes.length).toBe(count)
      let moment = Math.sqrt(Math.PI)
      for (let k = 0; k < Math.min(count, 12); k++) {
        const got = nodes.reduce((sum, t, i) => sum + weights[i]! * Math.exp(-t * t) * t ** (2 * k), 0)
        near(got, moment, `${count} ${k}`, 1e-12)
        moment *= (2 * k + 1) / 2
      }
    }
    for (const count of [1, 61, 2.5]) expect(() => hermiteRule(count)).toThrow(RangeError)
  })
})

describe('one curve for several groups that differ in height', () => {
  const groups = reference.groups.map(rowsOf)
  it('as glmer has it', () => {
    const fit = sound(n.fitAmong(groups, 'logit'))
    near(fit.intercept, reference.b[0]!, 'b0')
    near(fit.slope, reference.b[1]!, 'b1')
    near(fit.sigma, reference.sigma, 'sigma')
    near(fit.logLikelihood, reference.logLikelihood, 'l', 1e-6)
    for (const [i, height] of fit.heights.entries()) near(height, reference.heights[i]!, `height ${i}`)
    near(n.exp((n.linkPlace('logit', 0.9) - fit.intercept) / fit.slope), reference.a90Median, 'a90 of the median')
    near(n.exp(n.placeAmong(fit, 0.9)), reference.a90Population, 'a90 of all')
    near(n.shareAmong(fit, n.placeAmong(fit, 0.9)), 0.9, 'share', 1e-12)
  })
  it('does not depend on the order of groups, and follows the unit', () => {
    const fit = sound(n.fitAmong(groups, 'logit'))
    near(sound(n.fitAmong(groups.toReversed(), 'logit')).sigma, fit.sigma, 'sigma', 1e-9)
    const inches = reference.groups.map(({ size, hits }) => rowsOf({ size: size.map((mm) => mm / 25.4), hits }))
    near(
      25.4 * n.exp(n.placeAmong(sound(n.fitAmong(inches, 'logit')), 0.9)),
      n.exp(n.placeAmong(fit, 0.9)),
      'a90',
      1e-8
    )
  })
  it('comes to the plain curve where groups do not differ', () => {
    const twice = sound(n.fitAmong([groups[0]!, groups[0]!], 'logit'))
    const plain = sound(n.fitBinary(sound(n.tallyOf(groups[0]!)), { link: 'logit', estimate: 'likelihood' }))
    expect(twice.sigma).toBeLessThan(1e-3)
    near(twice.slope, plain.slope, 'slope', 1e-6)
    near(n.placeAmong(twice, 0.9), n.curvePlace(plain, n.linkPlace('logit', 0.9)), 'a90', 1e-6)
  })
  it('is refused for one group', () => {
    const code = (value: unknown): string => (isRefusal(value) ? value.code : 'answered')
    expect(code(n.fitAmong(groups.slice(0, 1), 'logit'))).toBe('numerics/too-few-points')
    expect(() => n.placeAmong({ ...sound(n.fitAmong(groups, 'logit')), slope: -1 }, 0.9)).toThrow(RangeError)
  })
})
