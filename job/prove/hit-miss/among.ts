import { fitAmong, linkPlace, placeAmong } from '@trueloop/ground/numerics'
import { isRefusal, type Result } from '@trueloop/ground/refusal'
import { type Code, refuse } from '../codes.ts'
import type { StudyRow } from '../rows.ts'
import { placeOfSize, sizeOfPlace } from './fits.ts'
import type { HitMissStudy } from './study.ts'

/** The inspectors as a sample of all who might look: sizes found with the share asked. For information, without a bound. */
export interface AmongInspectors {
  readonly inspectors: number
  /** scatter of the curve's height from inspector to inspector, in the curve's own scale */
  readonly sigma: number
  /** by an inspector in the middle of them, m */
  readonly median_m: number
  /** by whoever comes, m: the share is that of all flaws and inspectors together */
  readonly population_m: number
}

/** hits or misses below which inspectors are not told from chance. common practice, no source */
const FEW = 10

/**
 * One slope for all inspectors, heights that scatter normally. A few inspectors hardly tell the scatter, and it is no
 * matter of the stated bound, which is that of the worst. Refuses: prove/no-fit. source: pinheiro-bates-1995, 2.4
 */
export function amongInspectors(
  groups: readonly (readonly StudyRow[])[],
  { scale, link, share }: HitMissStudy
): Result<AmongInspectors, Code> {
  const hits = groups.flat().filter(({ hit }) => hit).length
  const least = Math.min(hits, groups.flat().length - hits)
  if (least < FEW) return few(least)
  const columns = groups.map((rows) => ({
    x: rows.map(({ size_m }) => placeOfSize(scale, size_m)),
    hits: rows.map(({ hit }) => (hit ? 1 : 0)),
    trials: rows.map(() => 1)
  }))
  const fit = fitAmong(columns, link)
  if (isRefusal(fit)) return refuse('prove/no-fit', { found: fit.found, needed: fit.needed, remedy: fit.remedy })
  if (!(fit.slope > 0)) return falling(fit.slope)
  const median = (linkPlace(link, share) - fit.intercept) / fit.slope
  return {
    ...{ inspectors: groups.length, sigma: fit.sigma, median_m: sizeOfPlace(scale, median) },
    population_m: sizeOfPlace(scale, placeAmong(fit, share))
  }
}

const falling = (slope: number): Result<never, Code> =>
  refuse('prove/falling', {
    found: `hits of all inspectors together that fall with size, by ${slope}`,
    needed: 'hits that grow with size',
    remedy: 'look at the inspectors one by one'
  })

const few = (least: number): Result<never, Code> =>
  refuse('prove/no-fit', {
    found: `${least} hits, or as few misses, by all inspectors together`,
    needed: `${FEW} or more of both`,
    remedy: 'state the worst of the inspectors alone'
  })
