import type { Refusal } from '@trueloop/ground/refusal'
import type { JobSummary, Outcome, PlaceRow } from '@trueloop/host/chain'
import { table } from './say.ts'

/** A job's state for a terminal: a mark and a word, never color. */

const marks: Readonly<Record<PlaceRow['state'], string>> = {
  'not examined': '░',
  'voided by a recheck': '◌',
  'relevant, not decided': '▲',
  undecided: '◐',
  'ream and re-inspect': '◯',
  refer: '▶',
  reject: '■',
  'examined, no relevant indication': '▢',
  'no recordable indication, decided': '☑'
}

const heads = ['', 'name', 'state', 'zones', 'relevant', 'undecided', 'over alarm level']

export const summaryTable = ({ places }: JobSummary): readonly string[] => [
  ...table([heads, ...places.map(placeCells)]),
  ...places.filter(({ why }) => why.length > 0).map(({ name, why }) => `  ${name}: ${why.join('; ')}`),
  ...places.flatMap(({ name, open }) => open.map((one) => `  ${name}: OPEN: ${one}`))
]

const placeCells = (place: PlaceRow): readonly string[] => [
  marks[place.state],
  place.name,
  place.provisional ? `${place.state} (until a good recheck)` : place.state,
  `${place.zonesExamined} of ${place.zones}`,
  String(place.relevant),
  String(place.undecided),
  String(place.aboveAlarm)
]

export const summaryText = (summary: JobSummary): readonly string[] => [
  `job ${summary.job}: ${summary.component}`,
  ...(summary.demonstration ? ['DEMONSTRATION: invented data, never to be signed off'] : []),
  summary.confirmed,
  ...unknownSetUp(summary),
  '',
  ...summaryTable(summary),
  '',
  summary.counts
    .filter(({ count }) => count > 0)
    .map(({ state, count }) => `${count} ${state}`)
    .join('; '),
  ...countedText(summary),
  ...practiceText(summary),
  ...inPart(summary),
  ...summary.rechecks.map(recheckLine),
  ...summary.unjudged.map((file) => `${file}: a check of the set-up that nobody has judged`),
  ...summary.redo.map(
    ({ place, files, why }) => `TO BE SCANNED AGAIN: ${place} (${files.join(', ')}): ${why.join('; ')}`
  ),
  ...summary.nonconformances.map(nonconformanceLine),
  `record: ${summary.entries} entries, head ${summary.head}`
]

function countedText({ counted: { listed, scanned, without } }: JobSummary): readonly string[] {
  if (without.length === 0) return [`scanned: all ${listed} on the list`]
  const some = without.slice(0, 12).join(', ')
  return [`scanned: ${scanned} of ${listed} on the list; no scan of ${some}${without.length > 12 ? ', …' : ''}`]
}

const practiceText = ({ practice }: JobSummary): readonly string[] => {
  if (practice === undefined) return []
  return practice.marked
    ? [`practice: ${practice.count} places, marked; they count for nothing here`]
    : [`PRACTICE: ${practice.count} of these places are practice and not marked yet: the job can not be closed`]
}

const nonconformanceLine = (one: JobSummary['nonconformances'][number]): string =>
  `NONCONFORMANCE: ${one.place} had ${one.had} (${one.at}) on scans that are void since: ${one.why.join('; ')}; ${one.examinedAgain ? 'examined again' : 'NOT examined again'}`

const unknownSetUp = ({ setUpUnknown }: JobSummary): readonly string[] =>
  setUpUnknown.length === 0 ? [] : [`set-up NOT KNOWN: ${setUpUnknown.join(', ')}; sizes and proposals are withheld`]

/** A place whose state is what was found in it may still have zones that nobody looked at. */
function inPart({ places }: JobSummary): readonly string[] {
  const rows = places.filter(({ state, zones, zonesExamined }) => state !== 'not examined' && zonesExamined < zones)
  if (rows.length === 0) return []
  return [
    `NOT EXAMINED IN WHOLE: ${rows.map((row) => `${row.name} (${row.zonesExamined} of ${row.zones} zones)`).join(', ')}`
  ]
}

const recheckLine = ({ file, passed, voids }: JobSummary['rechecks'][number]): string => {
  if (passed) return `recheck ${file}: good`
  return `recheck ${file}: FAILED${voids.length === 0 ? '' : `; it voids ${voids.join(', ')}`}`
}

/** What became of a recording, and under it every reason in its three parts. */
export const outcomeLines = (outcome: Outcome): readonly string[] => [
  outcomeLine(outcome),
  ...reasonsOf(outcome).map(
    ({ code, found, needed, remedy }) => `  ${code}: found: ${found}; needed: ${needed}; what to do: ${remedy}`
  )
]

const reasonsOf = (outcome: Outcome): readonly Refusal[] => {
  if (outcome.did === 'examined') return outcome.reasons
  return 'unread' in outcome && outcome.unread !== undefined ? [outcome.unread] : []
}

const outcomeLine = (outcome: Outcome): string => {
  const again = outcome.before ? ' (recorded before)' : ''
  if (outcome.did === 'standardized') return `${outcome.file}: standardized${again}`
  if (outcome.did === 'recheck') return `${outcome.file}: recheck ${outcome.passed ? 'good' : 'FAILED'}${again}`
  if (outcome.did === 'parent metal') {
    return `${outcome.file}: parent metal ${outcome.unread === undefined ? 'read' : 'NOT READ'}${again}`
  }
  const not = outcome.refusals.length === 0 ? '' : `, refused in part or whole: ${outcome.refusals.join(', ')}`
  return `${outcome.file}: examined${again}${not}`
}
