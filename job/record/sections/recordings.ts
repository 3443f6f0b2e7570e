import { alikeText, comparedScans } from '../alike.ts'
import { type Block, cells, paragraph, tableOr } from '../blocks.ts'
import { gapsIn } from '../gaps.ts'
import type { EntryOf } from '../kinds.ts'
import { count, moment } from '../print.ts'
import type { ReportInput, Section } from '../report-input.ts'
import type { JobState } from '../state.ts'

type Kept = EntryOf<'recording-kept'>

/** The originals, unchanged, under the hash of their bytes: any tool that computes SHA-256 can check them. */
export const recordings: Section = {
  title: 'Recordings',
  ofRecord: true,
  blocks: (input) => blocksOf(input)
}

function blocksOf(input: ReportInput): readonly Block[] {
  const { state } = input
  return [
    paragraph('In the order in which they count as taken. Each is kept unchanged under its SHA-256.'),
    tableOr(
      {
        caption: 'Recordings',
        columns: [
          { label: 'Number', figures: true },
          { label: 'Recording' },
          { label: 'Of' },
          { label: 'Time' },
          ...(isPlain(state) ? [] : [{ label: 'Taken by' }, { label: 'Since the one before' }]),
          { label: 'Bytes', figures: true },
          { label: 'SHA-256' }
        ],
        rows: state.recordings.map((one, at) => [
          ...cells(String(at + 1), one.file, ofText(one, state)),
          ...cells(one.taken === undefined ? 'not stated' : moment(one.taken)),
          ...(isPlain(state) ? [] : cells(personOf(one, state), sinceText(one))),
          ...cells(String(one.bytes), one.sha256)
        ])
      },
      'No recording is kept.'
    ),
    ...(isPlain(state) ? plain(state) : []),
    ...drawings(state),
    ...gaps(state),
    ...alike(input)
  ]
}

/** Drawings and photos of the component, as they came; none of them is printed here. */
function drawings({ drawings: all }: JobState): readonly Block[] {
  if (all.length === 0) return []
  const columns = [
    { label: 'Drawing or photo' },
    { label: 'What it shows' },
    { label: 'Places on it', figures: true },
    { label: 'Bytes', figures: true },
    { label: 'SHA-256' }
  ]
  const rows = all.map(({ entry: { file, title, bytes, sha256 }, places }) =>
    cells(file, title ?? 'not stated', String(places.length), String(bytes), sha256)
  )
  return [tableOr({ caption: 'Drawings and photos', columns, rows }, '')]
}

/** One person took all of them, and nobody has stated that anything changed: said once, not in every row. */
const isPlain = ({ recordings: all }: JobState): boolean =>
  all.every(({ examinedBy, since, order }) => examinedBy === undefined && since === undefined && order === undefined)

const plain = ({ recordings: all, opened }: JobState): readonly Block[] =>
  all.length === 0 ? [] : [paragraph(`All were taken by ${opened.examinedBy}; no change between them was stated.`)]

const personOf = ({ examinedBy }: Kept, { opened }: JobState): string => examinedBy ?? opened.examinedBy

const sinceText = ({ since = [], order }: Kept): string =>
  [...since, ...(order === undefined ? [] : ['order not sure'])].join(', ') || 'nothing stated'

/** Numbers that are not there between those that are: something may have been taken and not kept. */
function gaps({ recordings, places }: JobState): readonly Block[] {
  const files = gapsIn(recordings.map(({ file }) => file.replace(/\.[^.]*$/, '')))
  const names = gapsIn(places.map(({ place }) => place.name))
  const said = (what: string, missing: readonly string[]) =>
    missing.length === 0 ? [] : [paragraph(`${what} ${missing.join(', ')}.`)]
  return [
    ...said('In the numbers of the recordings there are missing:', files),
    ...said('In the numbers of the places there are missing:', names)
  ]
}

/** Never a verdict: a person looks. Pictures are caches; without them nothing is said of any wall. */
function alike({ state, examinations }: ReportInput): readonly Block[] {
  if (state.opened.application !== 'fastener hole') return []
  const documents = new Map(examinations.map(({ hash, document }) => [hash, document]))
  const { scans, pairs } = comparedScans(state, (hash) => documents.get(hash))
  if (pairs.length > 0) return pairs.map((pair) => paragraph(alikeText(pair)))
  const said = scans === 0 ? 'No walls were compared' : `The walls of ${count(scans, 'scan')} were compared`
  return [paragraph(`${said}: no two scans of different holes are told to be of one hole.`)]
}

const ofText = ({ of }: Kept, { practice }: JobState): string => {
  if (!('name' in of)) return of.of
  const isPractice = practice?.places.some(({ name }) => name === of.name) === true
  return `${of.of} ${of.name}${isPractice ? ', practice' : ''}`
}
