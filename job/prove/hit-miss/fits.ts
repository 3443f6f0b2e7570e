import {
  akaike,
  type BinaryFit,
  type Curve,
  type Estimate,
  exp,
  fitBinary,
  type Link,
  links,
  log,
  type NumericsCode,
  type Tally,
  tallyOf
} from '@trueloop/ground/numerics'
import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import type { StudyRow } from '../rows.ts'
import type { HitMissStudy } from './study.ts'

export type Scale = HitMissStudy['scale']

export const scales = ['ln size', 'size'] as const satisfies readonly Scale[]

/** Coordinates of the curve: ln(size/m) or size in m. */
export const placeOfSize = (scale: Scale, size_m: number): number => (scale === 'ln size' ? log(size_m) : size_m)
export const sizeOfPlace = (scale: Scale, place: number): number => (scale === 'ln size' ? exp(place) : place)

/** One fit that was tried, as it came out: none is left out, so that nobody can choose after the fact unseen. */
export interface TriedFit {
  readonly scale: Scale
  readonly link: Link
  readonly estimate: Estimate
  readonly outcome: 'converged' | Refusal<NumericsCode>
  readonly steps?: number
  readonly lastStep?: number
  readonly curve?: Curve
  readonly logLikelihood?: number
  /** -2 l + 4; differences below 2 prefer none */
  readonly akaike?: number
}

const tallyRows = (rows: readonly StudyRow[], scale: Scale): Result<Tally, NumericsCode> =>
  tallyOf({
    x: rows.map(({ size_m }) => placeOfSize(scale, size_m)),
    hits: rows.map(({ hit }) => (hit ? 1 : 0)),
    trials: rows.map(() => 1)
  })

/** The rows by both scales: put in order once for all fits. */
export type Tallies = Readonly<Record<Scale, Result<Tally, NumericsCode>>>

export const talliesOf = (rows: readonly StudyRow[]): Tallies => ({
  'ln size': tallyRows(rows, 'ln size'),
  size: tallyRows(rows, 'size')
})

export interface Tried {
  readonly scale: Scale
  readonly link: Link
  readonly estimate: Estimate
}

/** A fit with the line that the log has of it. */
export function tryFit(
  tallies: Tallies,
  { scale, link, estimate }: Tried
): { readonly fit: Result<BinaryFit, NumericsCode>; readonly tried: TriedFit } {
  const tally = tallies[scale]
  const fit = isRefusal(tally) ? tally : fitBinary(tally, { link, estimate })
  return { fit, tried: { scale, link, estimate, ...lineOf(fit) } }
}

function lineOf(fit: Result<BinaryFit, NumericsCode>): Omit<TriedFit, keyof Tried> {
  if (isRefusal(fit)) return { outcome: fit }
  const { intercept, slope, covariance, steps, lastStep, logLikelihood, estimate } = fit
  return {
    ...{ outcome: 'converged', steps, lastStep, curve: { intercept, slope, covariance }, logLikelihood },
    ...(estimate === 'likelihood' ? { akaike: akaike(fit) } : {})
  }
}

/** All eight: four links on size and on ln size, by maximum likelihood. */
export const tryAll = (tallies: Tallies): readonly TriedFit[] =>
  scales.flatMap((scale) => links.map((link) => tryFit(tallies, { scale, link, estimate: 'likelihood' }).tried))
