import {
  classOf,
  type DrawingState,
  type DrawnPlace,
  type EntryOf,
  hasUnmarked,
  type JobState,
  openIndications,
  type PlaceState,
  type PlaceStateName,
  stateNames,
  type VoidedScan,
  waits
} from '@trueloop/job/record'

/** What of a job waits for a person, and the rows that say so: for a terminal and for a page. */

export interface PlaceRow {
  readonly of: 'hole' | 'track' | 'loop'
  readonly name: string
  readonly state: PlaceStateName
  readonly provisional: boolean
  readonly zonesExamined: number
  readonly zones: number
  readonly relevant: number
  readonly undecided: number
  /** above the alarm level, whatever it was classed as */
  readonly aboveAlarm: number
  readonly why: readonly string[]
  /** indications that wait for a person or for another scan: the place can not be closed */
  readonly open: readonly string[]
  /** name of the examination that stands for it; absent where none does */
  readonly latest?: string
}

/** A drawing, by the hash of its bytes. */
export interface DrawingRow extends Pick<EntryOf<'drawing-kept'>, 'sha256' | 'file' | 'form' | 'id'> {
  readonly title?: string
  readonly by: string
  readonly places: readonly DrawnPlace[]
}

export interface JobSummary {
  readonly job: string
  readonly component: string
  readonly demonstration: boolean
  readonly confirmed: string
  /** values of the set-up that nobody knows: sizes and proposals are withheld */
  readonly setUpUnknown: readonly string[]
  readonly places: readonly PlaceRow[]
  /** drawings and photos of the component, and where places lie on them */
  readonly drawings: readonly DrawingRow[]
  readonly counts: readonly { readonly state: PlaceStateName; readonly count: number }[]
  readonly rechecks: readonly { readonly file: string; readonly passed: boolean; readonly voids: readonly string[] }[]
  readonly unjudged: readonly string[]
  /** the list of the job against what was scanned of it */
  readonly counted: { readonly listed: number; readonly scanned: number; readonly without: readonly string[] }
  readonly redo: readonly {
    readonly place: string
    readonly files: readonly string[]
    readonly why: readonly string[]
  }[]
  /** places that had left the hands on scans that are void since */
  readonly nonconformances: readonly {
    readonly place: string
    readonly had: 'been closed' | 'been delivered'
    readonly at: string
    readonly why: readonly string[]
    readonly examinedAgain: boolean
  }[]
  /** places that are practice: how many, and whether they are marked */
  readonly practice?: { readonly count: number; readonly marked: boolean }
  /** a person states a class before they are told what is proposed */
  readonly classFirst?: true
  /** what has been demonstrated for this set-up; absent: nobody has shown how small a flaw it finds */
  readonly capability?: { readonly words: string; readonly source: string; readonly by: string }
  readonly waiting: boolean
  readonly entries: number
  readonly head: string
}

export function summaryOf(whole: JobState): JobSummary {
  const { practice } = whole.opened
  const state = { ...whole, places: whole.places.filter((place) => place.practice === undefined) }
  const places = state.places.map(placeRow)
  const { job } = state.opened
  return {
    job: job.id,
    component: job.component,
    demonstration: job.demonstration,
    confirmed: confirmedText(state),
    setUpUnknown: unknownOf(state),
    places,
    drawings: state.drawings.map(drawingRow),
    counts: stateNames.map((name) => ({ state: name, count: places.filter((place) => place.state === name).length })),
    rechecks: state.rechecks.map(({ file, entry, voids }) => ({ file, passed: entry.passed, voids })),
    unjudged: state.unjudged.map(({ file }) => file),
    counted: countedOf(state),
    ...consequencesOf(state),
    ...(practice === undefined ? {} : { practice: { count: practice.count, marked: !hasUnmarked(whole) } }),
    ...(whole.opened.classFirst === undefined ? {} : { classFirst: true as const }),
    ...capabilityOf(whole),
    waiting:
      hasUnmarked(whole) ||
      places.some(isWaiting) ||
      state.unjudged.length > 0 ||
      state.nonconformances.some((one) => !one.isMended),
    entries: state.count,
    head: state.head
  }
}

function drawingRow({ entry, places }: DrawingState): DrawingRow {
  const { sha256, file, form, id, title, by } = entry
  return { sha256, file, form, id, ...(title === undefined ? {} : { title }), by: by.name, places }
}

function capabilityOf({ capability }: JobState): Pick<JobSummary, 'capability'> {
  if (capability === undefined) return {}
  const { words, source, by } = capability
  return { capability: { words, source, by: by.name } }
}

function countedOf({ places, recordings }: JobState): JobSummary['counted'] {
  const kept = new Set(recordings.flatMap(({ of }) => ('name' in of ? [`${of.of} ${of.name}`] : [])))
  const without = places.filter(({ place: { of, name } }) => !kept.has(`${of} ${name}`)).map(({ place }) => place.name)
  return { listed: places.length, scanned: places.length - without.length, without }
}

const whyOf = (scans: readonly VoidedScan[]): readonly string[] => [...new Set(scans.map(({ why }) => why))]

const consequencesOf = ({ redo, nonconformances }: JobState): Pick<JobSummary, 'redo' | 'nonconformances'> => ({
  redo: redo.map(({ place, scans }) => ({
    ...{ place: place.name, files: scans.map(({ file }) => file), why: whyOf(scans) }
  })),
  nonconformances: nonconformances.map(({ place, gone, scans, isMended }) => ({
    ...{ place: place.name, at: gone.at.time, why: whyOf(scans), examinedAgain: isMended },
    had: gone.kind === 'delivered' ? 'been delivered' : 'been closed'
  }))
})

/** States in which nobody has to do anything more, once the set-up was checked. */
const ended: readonly PlaceStateName[] = [
  ...(['refer', 'reject', 'examined, no relevant indication', 'no recordable indication, decided'] as const)
]

const isWaiting = ({ state, provisional, open }: PlaceRow): boolean =>
  provisional || open.length > 0 || !ended.includes(state)

/** Of a loop nothing is withheld that another set-up would give. */
function unknownOf({ opened, recordings }: JobState): readonly string[] {
  if (opened.application === 'loop') return []
  const stated = [opened.equipment, ...recordings.map(({ equipment }) => equipment)]
  const values = stated.flatMap((one) => Object.entries(one ?? {}))
  return [...new Set(values.filter(([, value]) => value === 'unknown').map(([key]) => key))]
}

function confirmedText({ confirmed }: JobState): string {
  if (confirmed === undefined) return 'technique not confirmed'
  const { name, level, on } = confirmed
  return `technique confirmed by ${name}, level ${level}, on ${on}; ${confirmed.signed === false ? 'unsigned' : 'signed'}`
}

export function placeRow(place: PlaceState): PlaceRow {
  const { state, provisional, latest, missing, joined } = place
  const zones = latest?.zones ?? []
  const count = (is: (one: (typeof joined)[number]) => boolean): number => joined.filter(is).length
  return {
    of: place.place.of,
    name: place.place.name,
    state,
    provisional,
    zonesExamined: zones.filter((zone) => zone.state === 'examined').length,
    zones: zones.length,
    relevant: count((one) => classOf(one) === 'relevant'),
    undecided: count((one) => waits(one) && classOf(one) !== 'relevant'),
    aboveAlarm: count((one) => one.crossedAlarm),
    why: [...new Set([...missing.flatMap(({ why }) => why), ...voidedWhy(latest)])],
    open: [...place.contradictions, ...openIndications(place), ...(place.loop?.open ?? [])],
    ...(latest === undefined ? {} : { latest: latest.examination })
  }
}

const voidedWhy = (latest: PlaceState['latest']): readonly string[] =>
  latest !== undefined && 'why' in latest.standing ? [latest.standing.why] : []
