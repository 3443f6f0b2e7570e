import { isRefusal, type Result } from '@trueloop/ground/refusal'
import type { HoleSheet, Sheet } from '../../plan/index.ts'
import type { PracticeAnswers } from '../../prove/index.ts'
import type { DemoRecording } from '../demo.ts'
import { notReady, type TableShelf } from '../field/index.ts'
import { sceneOf } from './draw-mix.ts'
import { drawnMix } from './lay-out.ts'
import { likeOwn } from './like.ts'
import { fromField, fromOwn, invented, turnedBy } from './modeled.ts'
import { mixedBefore, noPlace, noReference, notAHole, otherCount, otherFeed } from './no.ts'
import type { OwnReference } from './own.ts'
import { ownReferenceIn, placesIn } from './places.ts'
import { probeFor } from './probe.ts'

/** A job sheet with practice recordings among its own, these recordings, and the answers. */
export interface Mixed {
  readonly sheet: HoleSheet
  readonly answers: PracticeAnswers
  readonly recordings: readonly DemoRecording[]
  /** What is modeled in them and what is not, for a person. */
  readonly modeled: readonly string[]
}

export interface ToMix {
  readonly sheet: HoleSheet
  readonly own: OwnReference
  readonly count: number
  readonly seed: number
  readonly shelf: TableShelf
  /** SHA-256 of a text, hexadecimal */
  readonly hash: (text: string) => string
}

/** More than these are not mixed into one job. */
export const MOST_MIXED = 20

/**
 * What can be said before any recording is read: a sheet that practice can be mixed into, and how many. Refuses
 * rehearse/not-a-hole, rehearse/mixed-before, rehearse/other-count, rehearse/no-reference, rehearse/other-feed,
 * rehearse/no-place.
 */
export function mixable(sheet: Sheet, count: number): Result<HoleSheet> {
  if (!('holes' in sheet)) return notAHole(sheet.technique.application)
  if (sheet.practice !== undefined) return mixedBefore(sheet.practice.count)
  if (!(Number.isInteger(count) && count >= 1 && count <= MOST_MIXED)) return otherCount(count, MOST_MIXED)
  if (ownReferenceIn(sheet) === undefined) return noReference()
  const { axial_position: feed } = sheet.technique
  if (feed === 'encoder' || feed === 'hand feed, by strokes') return otherFeed(feed)
  return placesIn(sheet).length === 0 ? noPlace() : sheet
}

/**
 * Mixes practice into a job: holes under names that continue its own, their recordings at places drawn by the seed, as the
 * instrument of the job would have recorded them. Every table is made before it returns. Refuses: as mixable; further
 * rehearse/no-pick-ups, rehearse/several-metals, rehearse/no-room, rehearse/not-like-it, and what the field refuses.
 */
export function mixOf({ own, shelf, ...asked }: ToMix): Result<Mixed> {
  const sheet = mixable(asked.sheet, asked.count)
  if (isRefusal(sheet)) return sheet
  const probe = probeFor(sheet, shelf)
  if (isRefusal(probe)) return probe
  const staging = { sheet, probe, rate_Hz: own.rate_Hz }
  const like = likeOwn(staging, own, shelf)
  if (isRefusal(like)) return like
  const mix = drawnMix({ ...asked, sheet, probe: like.probe })
  if (isRefusal(mix)) return mix
  const recordings = mix.recordings.map(({ drawn, ...one }) => ({ ...one, scene: like.dress(sceneOf(drawn, staging)) }))
  for (const { scene } of recordings) {
    const bad = notReady(scene, shelf)
    if (bad !== undefined) return bad
  }
  return {
    sheet: mix.sheet,
    answers: mix.answers,
    recordings,
    modeled: [fromField, invented, fromOwn, turnedBy(like.probe)]
  }
}
