import {
  type CensoredData,
  type CensoredFit,
  censoredRegression,
  exp,
  log,
  type NumericsCode
} from '@trueloop/ground/numerics'
import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import type { SignalRow } from './rows.ts'
import type { SignalStudy } from './study.ts'

export type Transform = Pick<SignalStudy, 'scale' | 'response'>

/** The four responses, in the order in which they are tried. */
export const transforms: readonly Transform[] = (['ln size', 'size'] as const).flatMap((scale) =>
  (['ln signal', 'signal'] as const).map((response) => ({ scale, response }))
)

export const placeOf = ({ scale }: Pick<Transform, 'scale'>, size_m: number): number =>
  scale === 'ln size' ? log(size_m) : size_m

export const sizeOf = ({ scale }: Pick<Transform, 'scale'>, place: number): number =>
  scale === 'ln size' ? exp(place) : place

export const levelOf = ({ response }: Pick<Transform, 'response'>, signal: number): number =>
  response === 'ln signal' ? log(signal) : signal

export const dataOf = (rows: readonly SignalRow[], transform: Transform): CensoredData => ({
  columns: [rows.map(({ size_m }) => placeOf(transform, size_m))],
  y: rows.map(({ signal }) => levelOf(transform, signal)),
  side: rows.map(({ side }) => side)
})

/** One response that was tried, as it came out: none is left out, so that nobody can choose after the fact unseen. */
export interface TriedResponse extends Transform {
  readonly outcome: 'converged' | Refusal<NumericsCode>
  readonly intercept?: number
  readonly slope?: number
  readonly tau?: number
  /** of the signals themselves, so that all four compare */
  readonly logLikelihood?: number
  /** -2 l + 6; differences below 2 prefer none */
  readonly akaike?: number
}

export interface TriedFit {
  readonly data: CensoredData
  readonly fit: Result<CensoredFit, NumericsCode>
}

export function tryResponse(rows: readonly SignalRow[], transform: Transform): TriedFit {
  const data = dataOf(rows, transform)
  return { data, fit: censoredRegression(data) }
}

/** All four; those in ln signal only where every signal and limit is above zero. */
export const tryAll = (rows: readonly SignalRow[]): readonly TriedResponse[] =>
  transforms
    .filter(({ response }) => response === 'signal' || rows.every(({ signal }) => signal > 0))
    .map((transform) => lineOf(rows, transform))

function lineOf(rows: readonly SignalRow[], transform: Transform): TriedResponse {
  const { fit } = tryResponse(rows, transform)
  if (isRefusal(fit)) return { ...transform, outcome: fit }
  const logLikelihood = fit.logLikelihood - scaleOf(rows, transform)
  const [intercept, slope] = fit.coefficients as unknown as readonly [number, number]
  return {
    ...transform,
    ...{ outcome: 'converged', intercept, slope, tau: fit.tau, logLikelihood, akaike: 6 - 2 * logLikelihood }
  }
}

/** What a density of ln signal has over that of the signal: sum of ln signal over the rows read. */
const scaleOf = (rows: readonly SignalRow[], { response }: Transform): number =>
  response === 'signal' ? 0 : rows.reduce((sum, { signal, side }) => (side === 0 ? sum + log(signal) : sum), 0)
