import { type Block, cells, withoutRepeats } from '../blocks.ts'
import type { EntryOf } from '../kinds.ts'
import { examinationOf, standardOf } from '../lookups.ts'
import { mm, moment, notStated, shortHash } from '../print.ts'
import type { ReportInput, Section } from '../report-input.ts'
import type { ExaminationState, PlaceState } from '../state.ts'

/** What each place was like when it was examined, and each scan of it between the checks that stand around it. */
export const placesSection: Section = {
  title: 'Places and scans',
  blocks: (input) => [...places(input), ...scans(input), ...notes(input)]
}

function notes({ state: { places: all } }: ReportInput): readonly Block[] {
  const rows = all.flatMap(({ place, notes: own }) =>
    own.map(({ at, by, text }) => cells(place.name, text, by.name, moment(at)))
  )
  if (rows.length === 0) return []
  const columns = ['Place', 'Note', 'By', 'When'].map((label) => ({ label }))
  return [{ block: 'table', caption: 'Notes of people, each signed', columns, rows }]
}

type Row = PlaceState['place']
type Prepared = PlaceState['preparation']
type Job = EntryOf<'job-opened'>['job']

const millimeters = (value: number | undefined): string => (value === undefined ? notStated : `${value} mm`)

const ofHole: readonly (readonly [label: string, value: (place: Row, prepared: Prepared) => string])[] = [
  ['Nominal diameter', ({ diameter_mm }) => millimeters(diameter_mm)],
  ['Measured diameter', (_, prepared) => measured(prepared)],
  ['Oversize step', ({ oversize_step }) => oversize_step ?? notStated],
  ['Grip', ({ grip_mm }) => millimeters(grip_mm)],
  ['Layers', ({ layers }) => layers?.join(', ') ?? notStated]
]

const ofTrack: typeof ofHole = [['Length', ({ length_mm }) => millimeters(length_mm)]]

/** Of the job where it is the same everywhere, of a place where that differs. */
const ofAll: (job: Job) => typeof ofHole = ({ surface: everywhere }) => [
  ['Surface and coating', ({ surface }) => surface ?? everywhere ?? notStated],
  ['Visual finding', (_, prepared) => prepared?.visual ?? notStated],
  ['Photo', (_, prepared) => (prepared?.photo === undefined ? notStated : shortHash(prepared.photo))]
]

/** The largest; the rest of the measurement stands under preparation. */
const measured = (prepared: Prepared): string =>
  prepared?.measured_diameter_mm === undefined ? notStated : mm(1e-3 * prepared.measured_diameter_mm, 3)

function places({ state }: ReportInput): readonly Block[] {
  const own = { 'fastener hole': ofHole, weld: ofTrack, loop: [] }[state.opened.application]
  const columns = [...own, ...ofAll(state.opened.job)]
  const labels = ['Place', ...columns.map(([label]) => label)].map((label) => ({ label }))
  const rows = state.places.map(({ place, preparation }) =>
    cells(place.name, ...columns.map(([, value]) => value(place, preparation)))
  )
  return withoutRepeats({ caption: 'Places as prepared', columns: labels, rows }, 1, 'No place is in the record.')
}

const scans = (input: ReportInput): readonly Block[] => {
  const files = new Map(input.state.recordings.map(({ sha256, file }) => [sha256, file]))
  const before = checksBefore(input)
  const rows = input.state.places.flatMap((place) =>
    place.examinations.map((one) =>
      cells(
        place.place.name,
        one.file,
        ...scanCells(input, one),
        before.get(one.recording) ?? 'none',
        after(one, files)
      )
    )
  )
  const labels = ['Place', 'Recording', 'Look', 'Begun', 'Lasted', 'Reference standard', 'Check before', 'Check after']
  const columns = labels.map((label) => ({ label }))
  return withoutRepeats({ caption: 'Scans of the places', columns, rows }, 2, 'Scans: none was examined.')
}

function scanCells(input: ReportInput, one: ExaminationState): readonly string[] {
  const kept = input.state.recordings.find(({ sha256 }) => sha256 === one.recording)
  const begun = kept?.taken === undefined ? notStated : moment(kept.taken)
  return [one.after ?? 'first', begun, lasted(input, one, kept), standardOf(input, one) ?? notStated]
}

function lasted(input: ReportInput, one: ExaminationState, kept: EntryOf<'recording-kept'> | undefined): string {
  const samples = examinationOf(input, one)?.coverage.samples
  const rate = kept?.rate_Hz
  return samples === undefined || rate === undefined ? notStated : `${(samples / rate).toFixed(1)} s`
}

/** The last reference scan or judged recheck before each recording, in the order in which they count as taken. */
function checksBefore({ state }: ReportInput): ReadonlyMap<string, string> {
  const verdicts = new Map(state.rechecks.map(({ entry }) => [entry.recording, entry.passed ? 'passed' : 'FAILED']))
  const made = new Set(state.standardizations.map(({ recording }) => recording))
  const all = new Map<string, string>()
  let last = 'none'
  for (const { sha256, file, of } of state.recordings) {
    if (of.of === 'reference') last = `${file}: ${made.has(sha256) ? 'standardized' : 'not judged'}`
    else if (of.of === 'recheck') last = `${file}: ${verdicts.get(sha256) ?? 'not judged'}`
    else all.set(sha256, last)
  }
  return all
}

function after({ standing }: ExaminationState, files: ReadonlyMap<string, string>): string {
  if (standing.standing === 'certain') return `${files.get(standing.closedBy) ?? 'unknown'}: passed`
  if (standing.standing === 'provisional') return 'none yet'
  if (standing.standing === 'no set-up to check') return 'none: no set-up'
  return standing.by === undefined ? `none: ${standing.why}` : `${files.get(standing.by) ?? 'unknown'}: FAILED`
}
