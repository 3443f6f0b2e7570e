import { isRefusal, type Result } from '@trueloop/ground/refusal'
import type { Code } from '../codes.ts'
import type { FalseCalls } from '../false-calls.ts'
import type { CurveResult, GroupResult } from './group.ts'
import type { HitMissStudy } from './study.ts'

/** What a reader has to know beside the figures. `about` is for programs, `text` for people. */
export interface Advice {
  readonly about: string
  readonly inspector: string
  readonly text: string
}

type Told = Omit<Advice, 'inspector'>

/** hits and misses below which a fit is told by few. common practice, no source */
const FEW = 10
/** flaws for a curve. common practice, no source */
const LEAST_FLAWS = 60
/** inspectors below which they stand for themselves alone. common practice, no source */
const LEAST_INSPECTORS = 5
const DOUBT = 0.05

/** Advice of all groups and of the study as a whole. */
export const adviceOn = (
  study: HitMissStudy,
  groups: readonly GroupResult[],
  calls: Result<FalseCalls, Code>
): readonly Advice[] => [
  ...groups.flatMap((group) => ofGroup(study, group).map((told) => ({ ...told, inspector: group.inspector }))),
  ...ofStudy(study, groups, calls).map((told) => ({ ...told, inspector: '' }))
]

function ofGroup(study: HitMissStudy, group: GroupResult): readonly Told[] {
  const { hits, misses, curve } = group
  const few = Math.min(hits, misses) < FEW && Math.min(hits, misses) > 0
  return [
    ...(few ? [told('few', `Only ${hits} hits and ${misses} misses: the figures rest on few flaws.`)] : []),
    ...(hits + misses < LEAST_FLAWS
      ? [told('small', `${hits + misses} flaws; practice asks for ${LEAST_FLAWS} or more for a curve.`)]
      : []),
    ...(isRefusal(curve) ? [] : ofCurve(study, group, curve))
  ]
}

function ofCurve(study: HitMissStudy, group: GroupResult, curve: CurveResult): readonly Told[] {
  return [...ofBound(study, group, curve), ...ofTests(curve), ...ofOthers(study, group), ...ofLevels(curve)]
}

function ofBound({ share }: HitMissStudy, { largest_m, smallest_m }: GroupResult, curve: CurveResult): readonly Told[] {
  const { stated, points } = curve
  const isBeyond = !isRefusal(stated) && (stated > largest_m || stated < smallest_m)
  const rise = points.some(({ share: at }) => at > 0.1 && at < 0.9)
  return [
    ...(isRefusal(stated)
      ? [
          told(
            'not-demonstrated',
            `The size found in ${percent(share)} is not demonstrated. The curve may be drawn, as a guess.`
          )
        ]
      : []),
    ...(isBeyond
      ? [told('beyond', 'The bound lies beyond the sizes that were examined: it is drawn out, not shown.')]
      : []),
    ...(rise
      ? []
      : [told('no-rise', 'No flaw lies where the curve rises from 10 % to 90 %: its course there is a guess.')])
  ]
}

function ofTests({ tests }: CurveResult): readonly Told[] {
  const { sizes, deciles, bend } = tests
  const doubted = (sizes?.deviance.p ?? deciles?.p ?? 1) < DOUBT
  return [
    ...(doubted
      ? [told('poor-fit', 'The hits stray from the curve by more than chance: look at both drawn together.')]
      : []),
    ...((bend?.p ?? 1) < DOUBT
      ? [told('bend', 'The hits bend away from the curve: size and ln size, or another link, may tell them better.')]
      : [])
  ]
}

/** Another fit that tells the data better is named, for the next study; a change now would be a choice by the result. */
function ofOthers({ scale, link }: HitMissStudy, { fits }: GroupResult): readonly Told[] {
  const own = fits.find((one) => one.scale === scale && one.link === link)?.akaike
  const best = fits.reduce((a, b) =>
    (b.akaike ?? Number.POSITIVE_INFINITY) < (a.akaike ?? Number.POSITIVE_INFINITY) ? b : a
  )
  if (own === undefined || best.akaike === undefined || own - best.akaike < 2) return []
  return [
    told(
      'other-fit',
      `${best.link} on ${best.scale} tells these hits better. Keep to the fit that was chosen before the trial; the choice of the next one may follow.`
    )
  ]
}

function ofStudy(
  study: HitMissStudy,
  groups: readonly GroupResult[],
  calls: Result<FalseCalls, Code>
): readonly Told[] {
  const isFew = study.inspectors === 'apart' && groups.length < LEAST_INSPECTORS
  return [
    ...(isRefusal(calls)
      ? [told('no-blanks', 'No blanks: nothing is known of false calls, and hits may be bought with them.')]
      : []),
    ...(isFew ? [told('few-inspectors', 'The worst of the inspectors is stated; these few stand for no others.')] : []),
    ...(study.bound === 'likelihood'
      ? [
          told(
            'coverage',
            'Bounds by the likelihood fell short of their confidence by 1.5 to 3 points in counts with 60 to 120 flaws.'
          )
        ]
      : []),
    ...(study.flaws === 'real'
      ? []
      : [
          told(
            'not-real',
            'Notches or simulated flaws stood for cracks: the result proves no technique and may not be attached to one.'
          )
        ])
  ]
}

function ofLevels({ asymptotes }: CurveResult): readonly Told[] {
  if (isRefusal(asymptotes)) return [unsettled()]
  return asymptotes.needed ? [leveled()] : []
}

const unsettled = (): Told =>
  told(
    'levels-unsettled',
    'Whether the hits level off below 100 % could not be settled: look at the misses of large flaws.'
  )

const leveled = (): Told =>
  told(
    'levels',
    'The hits level off below 100 % or above 0 %: sizes and bound are taken from a curve with a floor and a ceiling.'
  )

const told = (about: string, text: string): Told => ({ about, text })

const percent = (share: number): string => `${Number((100 * share).toPrecision(4))} %`
