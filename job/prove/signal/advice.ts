import { isRefusal, type Result } from '@trueloop/ground/refusal'
import type { Code } from '../codes.ts'
import type { FalseCalls } from '../false-calls.ts'
import type { SignalCurve } from './curve.ts'
import type { TriedResponse } from './fits.ts'
import type { RepeatedCurve } from './repeats.ts'
import type { SignalRow } from './rows.ts'
import type { SignalStudy } from './study.ts'

/** What a reader has to know beside the figures. `about` is for programs, `text` for people. */
export interface SignalAdvice {
  readonly about: string
  readonly text: string
}

export interface Told {
  readonly study: SignalStudy
  readonly flaws: readonly SignalRow[]
  readonly falseCalls: Result<FalseCalls, Code>
  readonly fits: readonly TriedResponse[]
  readonly curve: Result<SignalCurve, Code> | undefined
  readonly repeated: Result<RepeatedCurve, Code> | undefined
}

/** flaws for a response. common practice, no source */
const LEAST_FLAWS = 40
/** inspectors below which they stand for themselves alone. common practice, no source */
const LEAST_INSPECTORS = 5
const DOUBT = 0.05

const told = (about: string, text: string): SignalAdvice => ({ about, text })

const when = (is: boolean, about: string, text: string): readonly SignalAdvice[] => (is ? [told(about, text)] : [])

export function signalAdvice(all: Told): readonly SignalAdvice[] {
  const { study, flaws, falseCalls, curve } = all
  const sites = new Set(flaws.map(({ site }) => site)).size
  return [
    ...when(sites < LEAST_FLAWS, 'small', `${sites} flaws; practice asks for ${LEAST_FLAWS} or more for a response.`),
    ...when(isRefusal(falseCalls), 'no-blanks', 'No blanks: nothing is known of false calls at this threshold.'),
    ...ofLimits(flaws),
    ...(curve === undefined || isRefusal(curve) ? [] : [...ofCurve(curve), ...ofChecks(curve)]),
    ...ofBound(all),
    ...ofOthers(all),
    ...ofInspectors(all),
    ...when(
      study.bound === 'likelihood',
      'coverage',
      'Bounds by the likelihood held 89, 92 and 93 % in counts with 15, 40 and 80 flaws where 95 % was asked.'
    ),
    ...when(
      study.bound === 'crossing',
      'large-sample',
      'Bounds by standard errors hold for many flaws only; with few they promise more than they keep.'
    ),
    ...when(
      study.flaws !== 'real',
      'not-real',
      'Notches or simulated flaws stood for cracks: the result proves no technique and may not be attached to one.'
    )
  ]
}

function ofLimits(flaws: readonly SignalRow[]): readonly SignalAdvice[] {
  const out = flaws.filter(({ side }) => side !== 0).length
  return when(
    out > 0,
    'limits',
    `${out} of ${flaws.length} signals lie beyond a limit. They count as such; pictures and tests of residuals are of the rest only.`
  )
}

function ofCurve({ stated }: SignalCurve): readonly SignalAdvice[] {
  return when(
    isRefusal(stated),
    'not-demonstrated',
    'The size asked for is not demonstrated. The curve may be drawn, as a guess.'
  )
}

function ofChecks({ checks }: SignalCurve): readonly SignalAdvice[] {
  const { residuals } = checks ?? {}
  if (residuals === undefined) return []
  return [
    ...when(
      residuals.scatter.chance < DOUBT,
      'scatter',
      'The scatter changes with size: another transform, in which it does not, is needed before the figures hold.'
    ),
    ...when(residuals.bend.chance < DOUBT, 'bend', 'The signals bend away from the line: look at all four responses.'),
    ...when(
      (residuals.normality ?? residuals.tails)!.chance < DOUBT,
      'not-normal',
      'The residuals are not normal: the shares far from one half rest on that.'
    )
  ]
}

/** The bound beyond the sizes that were examined. */
function ofBound({ flaws, curve, repeated }: Told): readonly SignalAdvice[] {
  const of = curve ?? repeated
  if (of === undefined || isRefusal(of) || isRefusal(of.stated)) return []
  const stated = of.stated
  const isOutside = flaws.every(({ size_m }) => size_m < stated) || flaws.every(({ size_m }) => size_m > stated)
  return when(isOutside, 'beyond', 'The bound lies beyond the sizes that were examined: it is drawn out, not shown.')
}

/** Another response that tells the signals better is named, for the next study; a change now would be a choice by the result. */
function ofOthers({ study, fits }: Told): readonly SignalAdvice[] {
  const own = fits.find(({ scale, response }) => scale === study.scale && response === study.response)?.akaike
  const best = fits.reduce<TriedResponse | undefined>(
    (a, b) => ((b.akaike ?? Number.POSITIVE_INFINITY) < (a?.akaike ?? Number.POSITIVE_INFINITY) ? b : a),
    undefined
  )
  if (own === undefined || best?.akaike === undefined || own - best.akaike < 2) return []
  const text = `${best.response} over ${best.scale} tells these signals better. Keep to what was chosen before the trial; the choice of the next one may follow.`
  return [told('other-fit', text)]
}

function ofInspectors({ study, flaws }: Told): readonly SignalAdvice[] {
  const inspectors = new Set(flaws.map(({ inspector }) => inspector)).size
  if (study.inspectors === 'one' || inspectors >= LEAST_INSPECTORS) return []
  return study.inspectors === 'repeats apart'
    ? [told('few-inspectors', 'The worst of the inspectors is stated; these few stand for no others.')]
    : [
        told(
          'few-inspectors',
          `${inspectors} inspectors tell little of how inspectors differ: state the worst of them.`
        )
      ]
}
