import { cells, paragraph, tableOr } from '../blocks.ts'
import type { EntryOf } from '../kinds.ts'
import { moment } from '../print.ts'
import type { Section } from '../report-input.ts'

/** The originals, unchanged, under the hash of their bytes: any tool that computes SHA-256 can check them. */
export const recordings: Section = {
  title: 'Recordings',
  blocks: ({ state }) => [
    paragraph('In the order in which they count as taken. Each is kept unchanged under its SHA-256.'),
    tableOr(
      {
        caption: 'Recordings',
        columns: [
          { label: 'Number', figures: true },
          { label: 'Recording' },
          { label: 'Of' },
          { label: 'Time' },
          { label: 'Bytes', figures: true },
          { label: 'SHA-256' }
        ],
        rows: state.recordings.map((one, at) => [
          ...cells(String(at + 1), one.file, ofText(one)),
          ...cells(one.taken === undefined ? 'not stated' : moment(one.taken), String(one.bytes), one.sha256)
        ])
      },
      'No recording is kept.'
    )
  ]
}

const ofText = ({ of }: EntryOf<'recording-kept'>): string => ('name' in of ? `${of.of} ${of.name}` : of.of)
