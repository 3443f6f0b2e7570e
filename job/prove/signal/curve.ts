import {
  type BoxCox,
  boxCox,
  type CensoredFit,
  fitLine,
  normalQuantile,
  type Reach,
  type ResidualChecks,
  reachOf,
  reachShares,
  residualChecks
} from '@trueloop/ground/numerics'
import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import { type Code, refuse } from '../codes.ts'
import { falling, type SignalBound, signalBounds, sizeAt, statedBound } from './bounds.ts'
import { levelOf, placeOf, sizeOf, type TriedFit, tryResponse } from './fits.ts'
import type { SignalRow } from './rows.ts'
import type { SignalStudy } from './study.ts'

/** The response and what follows from it, plain data. Places are ln(size/m) or size in m. */
export interface SignalCurve {
  readonly intercept: number
  readonly slope: number
  /** scatter by maximum likelihood, divided by n */
  readonly tau: number
  /** of intercept, slope and tau, row by row */
  readonly covariance: readonly number[]
  readonly logLikelihood: number
  readonly steps: number
  readonly a50_m: number
  /** called with the share asked, by tau */
  readonly asked_m: number
  /** the same by the scatter divided by n - 2, where every signal was read */
  readonly askedByDof_m?: number
  readonly bounds: readonly SignalBound[]
  readonly stated: Result<number, Code>
  readonly checks?: ResponseChecks
  readonly points: readonly SignalPoint[]
}

/** Pictures and tests of residuals, of the rows that were read: with rows beyond a limit they show a part only. */
export interface ResponseChecks {
  readonly of: 'all rows' | 'rows read only'
  readonly residuals?: ResidualChecks
  /** the best power of the signal at the study's scale of size */
  readonly power?: BoxCox
}

/** The curve at one size with one-sided bounds on both sides. */
export interface SignalPoint {
  readonly size_m: number
  readonly share: number
  readonly lower: number
  readonly upper: number
}

const POINTS = 41
const LEAST_READ = 3
/** two-sided, of the best power. common practice, no source */
const OF_POWER = 0.95

/**
 * y = b0 + b1 x + error over one row a flaw; chance of a call Phi((x - mu)/sigma).
 * Refuses: prove/one-size, prove/too-few-read (fewer than 3 rows read, or at one size only), prove/no-scatter,
 * prove/falling, prove/no-fit. source: berens-1989; mil-hdbk-1823a-2009
 */
export function signalCurve(rows: readonly SignalRow[], study: SignalStudy): Result<SignalCurve, Code> {
  const hindered = hindrance(rows)
  if (hindered !== undefined) return hindered
  const tried = tryResponse(rows, study)
  const { data, fit } = tried
  if (isRefusal(fit)) return fit.code === 'numerics/degenerate' ? noScatter(fit) : noFit(fit)
  const reach = reachOf(fit, levelOf(study, study.threshold))
  if (isRefusal(reach)) return falling(reach)
  const bounds = signalBounds({ data, fit }, study)
  if (isRefusal(bounds)) return bounds
  return {
    ...figuresOf(fit),
    ...{ a50_m: sizeAt(reach, study, 0.5), asked_m: sizeAt(reach, study, study.share) },
    ...byDof(tried, study),
    ...{ bounds, stated: statedBound(bounds, study) },
    checks: checksOf(rows, study),
    points: pointsOf(reach, rows, study)
  }
}

export const figuresOf = ({
  coefficients,
  tau,
  covariance,
  logLikelihood,
  steps
}: CensoredFit): Pick<SignalCurve, 'intercept' | 'slope' | 'tau' | 'covariance' | 'logLikelihood' | 'steps'> => ({
  ...{ intercept: coefficients[0]!, slope: coefficients[1]!, tau, logLikelihood, steps },
  covariance: Array.from(covariance.values)
})

function byDof({ data }: TriedFit, study: SignalStudy): Pick<SignalCurve, 'askedByDof_m'> {
  if (Array.from(data.side).some((side) => side !== 0)) return {}
  const line = fitLine({ x: data.columns[0]!, y: data.y })
  if (isRefusal(line)) return {}
  const level = levelOf(study, study.threshold)
  const place = (level + normalQuantile(study.share) * line.sigma - line.intercept) / line.slope
  return { askedByDof_m: sizeOf(study, place) }
}

function checksOf(rows: readonly SignalRow[], study: SignalStudy): ResponseChecks {
  const read = rows.filter(({ side }) => side === 0)
  const x = read.map(({ size_m }) => placeOf(study, size_m))
  const residuals = residualChecks({ x, y: read.map(({ signal }) => levelOf(study, signal)) })
  const power = boxCox({ x, y: read.map(({ signal }) => signal) }, OF_POWER)
  return {
    of: read.length === rows.length ? 'all rows' : 'rows read only',
    ...(isRefusal(residuals) ? {} : { residuals }),
    ...(isRefusal(power) ? {} : { power })
  }
}

export function pointsOf(reach: Reach, rows: readonly SignalRow[], study: SignalStudy): readonly SignalPoint[] {
  const places = rows.map(({ size_m }) => placeOf(study, size_m))
  const [first, last] = [places.reduce((a, b) => Math.min(a, b)), places.reduce((a, b) => Math.max(a, b))]
  const z = normalQuantile(study.confidence)
  return Array.from({ length: POINTS }, (_, i) => {
    const x = first + ((last - first) * i) / (POINTS - 1)
    return { size_m: sizeOf(study, x), ...reachShares(reach, { x, z }) }
  })
}

function hindrance(rows: readonly SignalRow[]): Refusal<Code> | undefined {
  if (new Set(rows.map(({ size_m }) => size_m)).size < 2) return oneSize(rows.length)
  const read = rows.filter(({ side }) => side === 0)
  const sizes = new Set(read.map(({ size_m }) => size_m)).size
  return read.length < LEAST_READ || sizes < 2 ? tooFewRead(read.length, sizes) : undefined
}

const oneSize = (rows: number): Refusal<Code> =>
  refuse('prove/one-size', {
    found: `${rows} flaws of one size`,
    needed: 'sizes that differ',
    remedy: 'state what this one size shows by counting; a response needs smaller and larger flaws'
  })

const tooFewRead = (read: number, sizes: number): Refusal<Code> =>
  refuse('prove/too-few-read', {
    found: `${read} signals read between the limits, at ${sizes} sizes`,
    needed: `${LEAST_READ} signals or more, at two sizes or more`,
    remedy: 'record with a gain at which more flaws lie between noise and saturation'
  })

const noScatter = ({ found }: Refusal): Refusal<Code> =>
  refuse('prove/no-scatter', {
    found,
    needed: 'signals of real flaws, which scatter about their trend',
    remedy: 'look at where the signals come from: computed ones, or one reading copied'
  })

const noFit = ({ found, needed, remedy }: Refusal): Refusal<Code> => refuse('prove/no-fit', { found, needed, remedy })
