import type { Class, Evidence } from './causes/index.ts'
import { JUDGING } from './judge.ts'
import { valuesOf } from './parameters.ts'
import { trackCauses, trackCrack } from './track-causes/index.ts'
import type { TrackFeatures } from './track-features.ts'

export interface TrackRule {
  /** whether it crosses the technique's alarm level */
  readonly crossedAlarm: boolean
  /** causes that the technique lets be told by phase and shape, by the trade's names */
  readonly mayClass: readonly string[]
  /** declared numbers moved for a plateau, by the cause's name; the judge's own under `judge` */
  readonly moved?: Readonly<Record<string, Readonly<Record<string, number>>>> | undefined
}

export interface TrackJudgement {
  readonly class: Class
  readonly cause: string
  readonly evidence: readonly Evidence[]
}

/**
 * What a part of a track is taken for, and why: a proposal. A crossing of the alarm is relevant unless a cause that the
 * technique lists fits well and clearly better than a crack; below the alarm it is undecided, unless the same holds.
 */
export function judgeTrack(features: TrackFeatures, { crossedAlarm, mayClass, moved = {} }: TrackRule): TrackJudgement {
  const values = valuesOf(JUDGING, moved.judge)
  const ranked = trackCauses
    .map((cause) => ({ cause, weighed: cause.weigh(features, valuesOf(cause.numbers, moved[cause.name])) }))
    .sort((a, b) => b.weighed.score - a.weighed.score || (a.cause.name < b.cause.name ? -1 : 1))
  const crack = ranked.find(({ cause }) => cause.name === trackCrack.name)!
  const best = ranked[0]!
  const isBeaten = best !== crack && best.weighed.score > crack.weighed.score + values.margin
  const fits = best.weighed.score >= values.clear
  const listed = new Set(mayClass.map((name) => name.trim().toLowerCase()))
  const isListed = [best.cause.name, ...best.cause.alsoCalled].some((name) => listed.has(name))
  const like = `It is most like ${best.cause.name} (${best.cause.class}, ${best.weighed.score.toFixed(2)}; a crack ${crack.weighed.score.toFixed(2)})`
  const evidence = best.weighed.reasons
  const as = (is: Class, sentence: string): TrackJudgement => ({
    class: is,
    cause: best.cause.name,
    evidence: [{ what: 'ruling', sentence, speaks: 'neither' }, ...evidence]
  })
  if (fits && isBeaten && isListed) return as(best.cause.class, `${like}, which the technique lets be told.`)
  if (best === crack && fits && crossedAlarm) return as('relevant', `${like}, and it crosses the alarm level.`)
  if (crossedAlarm && !(fits && isBeaten)) return as('relevant', `It crosses the alarm level. ${like}.`)
  if (crossedAlarm)
    return as('undecided', `It crosses the alarm level. ${like}, which the technique does not let be told.`)
  return as('undecided', `It stays below the alarm level. ${like}.`)
}
