import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { isRefusal } from '../refusal/index.ts'
import * as n from './index.ts'

/** Oracle: the same trial written in another way, with the answer that then must follow; trials of any kind, by fast-check. */

const code = (value: unknown): string => (isRefusal(value) ? value.code : 'answered')

const near = (got: number, expected: number, at: string, size = Math.abs(expected)): void =>
  expect(Math.abs(got - expected), `${at}: ${got} for ${expected}`).toBeLessThanOrEqual(1e-9 * size)

/** Hits and misses over x; `hit` is told by a chance that may rise, fall, or not care. */
interface Rows {
  readonly x: readonly number[]
  readonly hits: readonly number[]
}

const trial = fc
  .record({
    flaws: fc.integer({ min: 3, max: 70 }),
    slope: fc.double({ min: -2, max: 8, noNaN: true }),
    middle: fc.double({ min: -1, max: 1, noNaN: true }),
    /** sizes as a rule read it: many flaws may have one size */
    steps: fc.constantFrom(3, 10, 1000),
    seed: fc.nat()
  })
  .map(({ flaws, slope, middle, steps, seed }): Rows => {
    const random = n.randomFrom(`trial ${seed}`)
    const x = Array.from({ length: flaws }, () => Math.round((3 * random.uniform() - 1.5) * steps) / steps)
    return { x, hits: x.map((at) => (random.uniform() < n.linkShare('logit', slope * (at - middle)) ? 1 : 0)) }
  })

const asked: n.PlaceQuestion = { share: 0.9, side: 'upper', criterion: 2.705543454095404 }

function answer({ x, hits }: Rows, link: n.Link, { trials = x.map(() => 1), criterion = asked.criterion } = {}) {
  const tally = n.tallyOf({ x, hits, trials })
  if (isRefusal(tally)) throw new Error('no rows')
  const fit = n.fitBinary(tally, { link, estimate: 'likelihood' })
  if (isRefusal(fit)) return { verdict: fit.code }
  const bound = n.likelihoodPlace(fit, { ...asked, criterion })
  return {
    verdict: `${fit.slope > 0 ? 'rises' : 'falls'}, ${code(bound)}`,
    fit,
    bound: isRefusal(bound) ? undefined : bound
  }
}

type Answer = ReturnType<typeof answer>

/** Refusals near an edge (a slope of nearly nil, a statistic near the criterion) may tip by rounding: such trials are left out. */
function isClear({ fit }: Answer): boolean {
  if (fit === undefined) return true
  const statistic = n.slopeStatistic(fit)
  if (isRefusal(statistic)) return false
  return Math.abs(statistic - asked.criterion) > 1e-3 && statistic > 1e-3 && Math.abs(fit.slope) < 200
}

const links = fc.constantFrom(...n.links)
const spread = ({ fit }: Answer): number => (fit === undefined ? 1 : Math.sqrt(fit.covariance.intercept))
const errors = ({ fit }: Answer): number => (fit === undefined ? 1 : Math.sqrt(fit.covariance.slope))

/** The same curve, moved and stretched: eta = b0 + b1 (factor x' + shift). */
function sameCurve(got: Answer, want: Answer, { factor = 1, shift = 0 } = {}): void {
  expect(got.verdict).toBe(want.verdict)
  if (got.fit === undefined || want.fit === undefined) return
  near(got.fit.slope / factor, want.fit.slope, 'slope', Math.max(Math.abs(want.fit.slope), errors(want)))
  const height = got.fit.intercept - (got.fit.slope / factor) * shift
  near(height, want.fit.intercept, 'intercept', Math.max(1, Math.abs(want.fit.intercept), spread(want)))
  if (got.bound !== undefined && want.bound !== undefined)
    near(factor * got.bound + shift, want.bound, 'bound', Math.max(1, Math.abs(want.bound)))
}

describe('hits and misses written in another way', () => {
  it('rows in another order, or put together by size: to the bit', () => {
    fc.assert(
      fc.property(trial, links, fc.nat(), (rows, link, seed) => {
        const want = answer(rows, link)
        const random = n.randomFrom(`order ${seed}`)
        const order = rows.x.map((_, i) => ({ i, key: random.uint32() })).sort((a, b) => a.key - b.key)
        const turned = { x: order.map(({ i }) => rows.x[i]!), hits: order.map(({ i }) => rows.hits[i]!) }
        expect(answer(turned, link)).toEqual(want)
        const places = [...new Set(rows.x)]
        const count = (hit: number) =>
          places.map((at) => rows.x.filter((x, i) => x === at && rows.hits[i]! >= hit).length)
        expect(answer({ x: places, hits: count(1) }, link, { trials: count(0) })).toEqual(want)
      })
    )
  })
  it('sizes in inches, as they are or by their logarithm', () => {
    fc.assert(
      fc.property(trial, links, (rows, link) => {
        const want = answer(rows, link)
        fc.pre(isClear(want))
        const inches = answer({ ...rows, x: rows.x.map((x) => x / 25.4) }, link)
        sameCurve(inches, want, { factor: 25.4 })
        const logarithms = answer({ ...rows, x: rows.x.map((x) => x - n.log(25.4)) }, link)
        sameCurve(logarithms, want, { shift: n.log(25.4) })
      })
    )
  })
  it('every row twice: half the covariance, and the bound where the likelihood falls by half as much', () => {
    fc.assert(
      fc.property(trial, links, (rows, link) => {
        const want = answer(rows, link)
        const twice = { x: [...rows.x, ...rows.x], hits: [...rows.hits, ...rows.hits] }
        fc.pre(isClear(want))
        const got = answer(twice, link, { trials: twice.x.map(() => 1), criterion: 2 * asked.criterion })
        sameCurve(got, want)
        if (got.fit === undefined || want.fit === undefined) return
        for (const key of ['intercept', 'both', 'slope'] as const)
          near(
            2 * got.fit.covariance[key],
            want.fit.covariance[key],
            key,
            spread(want) * errors(want) + want.fit.covariance[key] ** 2
          )
      })
    )
  })
  it('misses for hits: the curve upside down, and log-log in the place of c-log-log', () => {
    const other = { logit: 'logit', probit: 'probit', 'log-log': 'c-log-log', 'c-log-log': 'log-log' } as const
    fc.assert(
      fc.property(trial, links, (rows, link) => {
        const want = answer(rows, link)
        fc.pre(isClear(want))
        const got = answer({ ...rows, hits: rows.hits.map((hit) => 1 - hit) }, other[link])
        if (got.fit === undefined || want.fit === undefined) {
          expect(got.verdict.replace(/, .*/, '')).toBe(want.verdict)
          return
        }
        near(-got.fit.slope, want.fit.slope, 'slope', Math.max(Math.abs(want.fit.slope), errors(want)))
        near(
          -got.fit.intercept,
          want.fit.intercept,
          'intercept',
          Math.max(1, Math.abs(want.fit.intercept), spread(want))
        )
        near(got.fit.covariance.slope, want.fit.covariance.slope, 'variance')
        near(got.fit.logLikelihood, want.fit.logLikelihood, 'likelihood')
      })
    )
  })
})

const signals = fc
  .record({
    flaws: fc.integer({ min: 4, max: 60 }),
    slope: fc.double({ min: -0.5, max: 3, noNaN: true }),
    scatter: fc.double({ min: 0.05, max: 1, noNaN: true }),
    floor: fc.constantFrom(-9, -0.5, 0),
    saturation: fc.constantFrom(9, 1),
    seed: fc.nat()
  })
  .map(({ flaws, slope, scatter, floor, saturation, seed }) => {
    const random = n.randomFrom(`signals ${seed}`)
    const x = Array.from({ length: flaws }, () => 3 * random.uniform() - 1.5)
    const full = x.map((at) => slope * at + scatter * random.normal())
    const side = full.map((y) => (y <= floor ? -1 : y >= saturation ? 1 : 0))
    return { x, y: full.map((y) => Math.min(Math.max(y, floor), saturation)), side }
  })

type Signals = { readonly x: readonly number[]; readonly y: readonly number[]; readonly side: readonly number[] }

const LEVEL = 0.4

function response({ x, y, side }: Signals, level = LEVEL) {
  const fit = n.censoredRegression({ columns: [x], y, side })
  if (isRefusal(fit)) return { verdict: fit.code }
  const reach = n.reachOf(fit, level)
  const crossing = isRefusal(reach) ? reach : n.reachCrossing(reach, { share: 0.9, z: 1.6448536269514722 })
  return { verdict: code(crossing), fit, crossing: isRefusal(crossing) ? undefined : crossing }
}

/** Slopes that are hardly told from nil by the crossing may tip by rounding. */
function isTold({ fit }: ReturnType<typeof response>): boolean {
  if (fit === undefined) return true
  const [z, size] = [fit.coefficients[1]! / Math.sqrt(fit.covariance.values[4]!), Math.abs(fit.coefficients[1]!)]
  return Math.abs(z - 1.6448536269514722) > 1e-2 && size > 1e-3 && z < 1e4
}

describe('signals written in another way', () => {
  const same = (got: ReturnType<typeof response>, want: ReturnType<typeof response>): void => {
    expect(got.verdict).toBe(want.verdict)
    if (got.fit === undefined || want.fit === undefined) return
    near(got.fit.tau, want.fit.tau, 'scatter')
    for (const i of [0, 1])
      near(got.fit.coefficients[i]!, want.fit.coefficients[i]!, `b${i}`, 1 + Math.abs(want.fit.coefficients[i]!))
    if (got.crossing !== undefined) near(got.crossing, want.crossing!, 'crossing', 1 + Math.abs(want.crossing!))
  }
  it('rows in another order', () => {
    fc.assert(
      fc.property(signals, (rows) => {
        const want = response(rows)
        fc.pre(isTold(want))
        same(response({ x: rows.x.toReversed(), y: rows.y.toReversed(), side: rows.side.toReversed() }), want)
      })
    )
  })
  it('sizes in inches, signals ten times as large: coefficients and scatter follow', () => {
    fc.assert(
      fc.property(signals, (rows) => {
        const want = response(rows)
        fc.pre(isTold(want))
        const got = response({ ...rows, x: rows.x.map((x) => x / 25.4), y: rows.y.map((y) => 10 * y) }, 10 * LEVEL)
        expect(got.verdict).toBe(want.verdict)
        if (got.fit === undefined || want.fit === undefined) return
        near(got.fit.tau / 10, want.fit.tau, 'scatter')
        near(
          got.fit.coefficients[1]! / 254,
          want.fit.coefficients[1]!,
          'slope',
          1 + Math.abs(want.fit.coefficients[1]!)
        )
        if (got.crossing !== undefined)
          near(25.4 * got.crossing, want.crossing!, 'crossing', 1 + Math.abs(want.crossing!))
      })
    )
  })
  it('every row twice: the same line, half the covariance', () => {
    fc.assert(
      fc.property(signals, (rows) => {
        const want = response(rows)
        fc.pre(want.fit !== undefined && isTold(want))
        const twice = <T>(values: readonly T[]): readonly T[] => [...values, ...values]
        const got = response({ x: twice(rows.x), y: twice(rows.y), side: twice(rows.side) })
        near(got.fit!.tau, want.fit!.tau, 'scatter')
        for (const [i, value] of want.fit!.covariance.values.entries())
          near(
            2 * got.fit!.covariance.values[i]!,
            value,
            `V${i}`,
            Math.max(...want.fit!.covariance.values.map(Math.abs))
          )
      })
    )
  })
  it('upside down: floor and saturation change places, the line its signs', () => {
    fc.assert(
      fc.property(signals, (rows) => {
        const want = response(rows)
        const got = response({ ...rows, y: rows.y.map((y) => -y), side: rows.side.map((side) => -side) })
        fc.pre(want.fit !== undefined && isTold(want))
        near(got.fit!.tau, want.fit!.tau, 'scatter')
        for (const i of [0, 1])
          near(
            -got.fit!.coefficients[i]!,
            want.fit!.coefficients[i]!,
            `b${i}`,
            1 + Math.abs(want.fit!.coefficients[i]!)
          )
      })
    )
  })
})
