import { type Alike, alikeScans, type Examination, type PrintedScan, wallPrintOf } from '../examine/index.ts'
import type { JobState } from './state.ts'

/** Which scans of a job could be compared by what is fixed on the wall, and which of different holes agree as one hole does. */
export interface Compared {
  readonly scans: number
  readonly pairs: readonly Alike[]
}

/** `examinationOf` gives an examination with its picture, where both are at hand. */
export function comparedScans(
  { places }: JobState,
  examinationOf: (hash: string) => Examination | undefined
): Compared {
  const scans = places.flatMap(({ place, examinations, beforeCut }) =>
    place.of !== 'hole' ? [] : [...beforeCut, ...examinations].flatMap((one) => printed(place.name, one, examinationOf))
  )
  scans.sort((a, b) => a.keptAt - b.keptAt)
  return { scans: scans.length, pairs: alikeScans(scans) }
}

function printed(
  subject: string,
  { examination, file, keptAt, after }: JobState['places'][number]['examinations'][number],
  examinationOf: (hash: string) => Examination | undefined
): readonly (PrintedScan & { readonly keptAt: number })[] {
  // a scan in the other sense shows the wall mirrored, another probe or frequency another wall
  if (after !== undefined && after !== 'cleaned and entered again') return []
  const document = examinationOf(examination)
  const print = document === undefined ? undefined : wallPrintOf(document)
  return print === undefined ? [] : [{ subject, file, print, keptAt }]
}

/** What a person has to look at: two names, perhaps one hole. */
export const alikeText = ({ one, other, agreement, limit }: Alike): string =>
  `Same hole twice? ${one.subject} (${one.file}) and ${other.subject} (${other.file}) agree to ${agreement.toFixed(2)}; two scans of one hole do from ${limit.toFixed(2)} on.`
