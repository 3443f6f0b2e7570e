import type { Standing } from './brackets.ts'
import type { Holding } from './corrections.ts'
import type { Entry, EntryOf } from './kinds.ts'
import { missingShare } from './place.ts'
import type { ExaminationState, Nonconformance, PlaceState, Redo, VoidedScan } from './state.ts'

/** What a set-up that did not hold leaves to be done: places to scan again, and work that had left the hands already. */

const voidedOf = ({ examinations, beforeCut }: PlaceState): readonly ExaminationState[] =>
  [...beforeCut, ...examinations].filter(({ standing }) => standing.standing === 'voided')

const scanOf = ({ file, recording, standing }: ExaminationState): VoidedScan => ({
  ...{ file, recording, why: standing.standing === 'voided' ? standing.why : 'it stands' }
})

const isDone = (place: PlaceState): boolean => missingShare(place) === 'nothing' && place.openFromVoided.length === 0

export const redoOf = (places: readonly PlaceState[]): readonly Redo[] =>
  places.flatMap((one) => {
    const scans = one.examinations.filter(({ standing }) => standing.standing === 'voided').map(scanOf)
    return scans.length === 0 || isDone(one) ? [] : [{ place: one.place, scans, open: one.openFromVoided.length }]
  })

/** How scans stood when an entry was written. */
export type StandingAsOf = (seq: number) => ReadonlyMap<string, Standing>

/** In the order in which the work had left the hands. A scan that was void then already is no surprise now. */
export function nonconformancesOf(
  places: readonly PlaceState[],
  all: readonly Holding[],
  asOf: StandingAsOf
): readonly Nonconformance[] {
  const voided = places.map((place) => ({ place, scans: voidedOf(place) })).filter(({ scans }) => scans.length > 0)
  if (voided.length === 0) return []
  return all.flatMap(({ seq, entry }) => {
    if (!isGone(entry)) return []
    const concerned = voided.filter(({ place }) => concerns(entry, place))
    if (concerned.length === 0) return []
    const stood = asOf(seq)
    return concerned.flatMap(({ place, scans }) => {
      const since = scans.filter(({ recording }) => isCounted(stood.get(recording))).map(scanOf)
      return since.length === 0 ? [] : [{ place: place.place, gone: entry, scans: since, isMended: isDone(place) }]
    })
  })
}

/** It was examined then, and nothing spoke against its set-up. */
const isCounted = (standing: Standing | undefined): boolean => standing !== undefined && standing.standing !== 'voided'

const isGone = (entry: Entry): entry is EntryOf<'place-closed' | 'delivered'> =>
  entry.kind === 'place-closed' || entry.kind === 'delivered'

function concerns(entry: EntryOf<'place-closed' | 'delivered'>, { place }: PlaceState): boolean {
  const named = entry.kind === 'place-closed' ? [entry.subject] : entry.places
  return named === undefined || named.some(({ of, name }) => of === place.of && name === place.name)
}
