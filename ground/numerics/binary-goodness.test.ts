import { describe, expect, it } from 'vitest'
import { isRefusal } from '../refusal/index.ts'
import * as n from './index.ts'
import wide from './reference/asymptotes.json' with { type: 'json' }
import reference from './reference/hit-miss.json' with { type: 'json' }
import checks from './reference/hit-miss-checks.json' with { type: 'json' }
import published from './reference/published-hit-miss.json' with { type: 'json' }

/**
 * Oracles: R 4.2.2 (reference/hit-miss.json, asymptotes.json), 30-digit arithmetic (reference/hit-miss-checks.json), printed
 * deviances (reference/published-hit-miss.json).
 */

const sound = <T>(value: T): Exclude<T, { refused: true }> => {
  if (isRefusal(value)) throw new Error(`${value.code}: ${value.found}`)
  return value as Exclude<T, { refused: true }>
}

const code = (value: unknown): string => (isRefusal(value) ? value.code : 'answered')

const near = (got: number, expected: number, at: string, within = 1e-10): void =>
  expect(Math.abs(got / expected - 1), `${at}: ${got} for ${expected}`).toBeLessThanOrEqual(within)

interface Set {
  readonly size: readonly number[]
  readonly hits: readonly number[]
  readonly trials?: readonly number[]
}

const fitted = ({ size, hits, trials }: Set, link: string): n.BinaryFit =>
  sound(
    n.fitBinary(sound(n.tallyOf({ x: size.map(n.log), hits, trials: trials ?? size.map(() => 1) })), {
      link: link as n.Link,
      estimate: 'likelihood'
    })
  )

const setOf = (name: string): Set => (reference.sets as Readonly<Record<string, Set>>)[name]!

describe('goodness of fit', () => {
  it('deviance and Pearson chi-square over six sizes of twenty flaws', () => {
    const { set, deviance, dof, p, pearson } = reference.grouped
    const got = sound(n.placesTest(fitted(setOf(set), 'logit')))
    near(got.deviance.statistic, deviance, 'deviance')
    expect(got.deviance.dof).toBe(dof)
    near(got.deviance.p, p, 'p')
    near(got.pearson.statistic, pearson, 'Pearson')
  })
  for (const one of published.cases)
    it(`${one.name}: deviance as printed`, () => {
      const fit = sound(
        n.fitBinary(sound(n.tallyOf(published.data[one.data as 'beetles'])), {
          link: one.link as n.Link,
          estimate: 'likelihood'
        })
      )
      const ungrouped = one.data === 'oring'
      const got = ungrouped ? -2 * fit.logLikelihood : sound(n.placesTest(fit)).deviance.statistic
      near(got, one.deviance, 'deviance', published.tolerance)
      if (one.pearson !== undefined)
        near(sound(n.placesTest(fit)).pearson.statistic, one.pearson, 'Pearson', published.tolerance)
      if ('deviance' in one.printed)
        expect(Math.abs(got - one.printed.deviance)).toBeLessThanOrEqual(one.printed.deviance > 12 ? 6e-4 : 6e-3)
      if (one.dof !== undefined && one.data !== 'oring') expect(sound(n.placesTest(fit)).deviance.dof).toBe(one.dof)
      if (one.nullDeviance !== undefined)
        near(sound(n.slopeStatistic(fit)), one.nullDeviance - one.deviance, 'slope', published.tolerance)
      if (one.share31 !== undefined)
        near(n.linkShare('logit', fit.intercept + 31 * fit.slope), one.share31, '31 F', published.tolerance)
    })
  it('Hosmer and Lemeshow in ten groups', () => {
    const { set, link, groups, statistic, dof, p } = reference.hosmerLemeshow
    const got = sound(n.decilesTest(fitted(setOf(set), link), groups))
    expect(got.dof).toBe(dof)
    near(got.statistic, statistic, 'statistic')
    near(got.p, p, 'p')
  })
  it('a bend of the predictor', () => {
    for (const { set, link, statistic } of checks.bend) {
      const got = sound(n.bendTest(fitted(setOf(set), link)))
      near(got.statistic, statistic, `${set} ${link}`, checks.tolerance.bend)
      near(got.p, n.chiSquareSurvival(statistic, 1), 'p', 1e-6)
    }
  })
  it('stays a number where the curve is at its end to the last digit', () => {
    const { size, hits } = setOf('hm1') as { size: number[]; hits: number[] }
    const far = sound(n.tallyOf({ x: [...size, 40], hits: [...hits, 1], trials: [...hits.map(() => 1), 1] }))
    const fit = sound(n.fitBinary(far, { link: 'c-log-log', estimate: 'likelihood' }))
    expect(n.linkShare(fit.link, fit.intercept + 40 * fit.slope)).toBe(1)
    expect(sound(n.decilesTest(fit, 10)).statistic).toBeGreaterThan(0)
    expect(sound(n.placesTest(fit)).pearson.statistic).toBeGreaterThan(0)
  })
  it('Akaike', () => {
    const fit = fitted(setOf('hm1'), 'logit')
    near(n.akaike(fit), 41.2738725081713, 'hm1')
  })
  it('is refused where there is too little to test', () => {
    const two = fitted({ size: [1, 2], hits: [3, 7], trials: [10, 10] }, 'logit')
    expect(code(n.placesTest(two))).toBe('numerics/too-few-points')
    expect(code(n.bendTest(two))).toBe('numerics/too-few-points')
    expect(code(n.decilesTest(two, 10))).toBe('numerics/too-few-points')
  })
})

describe('a floor and a ceiling', () => {
  const plain = fitted(wide, 'logit')
  const fit = sound(n.fitAsymptotes(plain))
  const { tolerance, asymptotes } = checks
  const criterion = n.chiSquareQuantile({ tail: 'lower', share: 0.95 }, 1)
  it('as R finds them', () => {
    near(fit.floor, wide.lower, 'floor', wide.tolerance)
    near(fit.ceiling, wide.upper, 'ceiling', wide.tolerance)
    near(2 * (fit.logLikelihood - plain.logLikelihood), wide.statistic, 'statistic', wide.tolerance)
    near(n.exp(n.asymptotePlace(fit, 0.9)!), wide.a90, 'a90', wide.tolerance)
    near(n.exp(n.asymptotePlace(fit, 0.5)!), wide.a50, 'a50', wide.tolerance)
    near(n.exp(n.curvePlace(plain, n.linkPlace('logit', 0.9))), wide.a90Two, 'a90 of two', wide.tolerance)
    expect(n.asymptotePlace(fit, 0.95)).toBeUndefined()
    expect([...fit.free].sort()).toEqual(['ceiling', 'floor'])
  })
  it('to 9 digits', () => {
    const got = [fit.intercept, fit.slope, fit.floor, fit.ceiling]
    for (const [i, expected] of asymptotes.theta.entries()) near(got[i]!, expected, `${i}`, tolerance.estimates)
    near(fit.logLikelihood, asymptotes.logLikelihood, 'l', tolerance.estimates)
  })
  it('their intervals', () => {
    const floor = sound(n.asymptoteInterval(fit, { name: 'floor', criterion }))
    const ceiling = sound(n.asymptoteInterval(fit, { name: 'ceiling', criterion }))
    for (const [got, expected, exact] of [
      [floor, wide.lowerInterval, asymptotes.lower],
      [ceiling, wide.upperInterval, asymptotes.upper]
    ] as const) {
      near(got.lower, expected[0]!, 'lower', wide.intervalTolerance)
      near(got.upper, expected[1]!, 'upper', wide.intervalTolerance)
      near(got.lower, exact[0]!, 'lower', tolerance.bounds)
      near(got.upper, exact[1]!, 'upper', tolerance.bounds)
    }
  })
  it('a bound of the place of 80 %, and none of 90 %, which the ceiling may not reach', () => {
    const asked = { side: 'upper', criterion: n.chiSquareQuantile({ tail: 'lower', share: 0.9 }, 1) } as const
    near(n.exp(n.asymptotePlace(fit, 0.8)!), asymptotes.a80, 'a80', tolerance.estimates)
    near(
      n.exp(sound(n.asymptotePlaceBound(fit, { ...asked, share: 0.8 }))),
      asymptotes.a80Bound,
      'bound',
      tolerance.bounds
    )
    const wider = { side: 'upper', criterion } as const
    expect(code(n.asymptotePlaceBound(fit, { ...wider, share: 0.9 }))).toBe('numerics/no-bound')
    expect(code(n.asymptotePlaceBound(fit, { ...wider, share: 0.95 }))).toBe('numerics/no-bound')
  })
  it('stay at their ends where the data ask for none', () => {
    const none = sound(n.fitAsymptotes(fitted(setOf('hm_ties_grouped'), 'c-log-log')))
    expect(none.free.length).toBeLessThan(2)
    const interval = sound(n.asymptoteInterval(none, { name: 'floor', criterion }))
    expect(interval.lower).toBe(0)
    expect(interval.upper).toBeGreaterThan(0)
  })
})
