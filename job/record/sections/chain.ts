import { type Block, cells, paragraph, tableOr } from '../blocks.ts'
import type { Moment } from '../kinds/parts.ts'
import { methodsOf } from '../lookups.ts'
import { moment, shortHash } from '../print.ts'
import type { ReportInput, Section } from '../report-input.ts'

/** The entries that this report is a projection of, and the end of their chain: what `verify --head` compares with. */
export const chain: Section = {
  title: 'Record',
  blocks: (input) => [facts(input), ...corrections(input), documents(input), timing, entries(input)]
}

const timing: Block = paragraph(
  'Entries are timed by the clock of the computer they were made on, unless they say otherwise.'
)

function facts({ state, program }: ReportInput): Block {
  const methods = methodsOf(state)
  return {
    block: 'facts',
    facts: [
      { label: 'Entries', value: String(state.count) },
      {
        label: 'Chain head',
        value: `${state.count}:${state.head}`,
        known: 'entries and hash of the last; verify compares it'
      },
      { label: 'Method number', value: methods.length === 0 ? 'none' : methods.join(', ') },
      { label: 'Program', value: `${program.name} ${program.version}` }
    ]
  }
}

const corrections = ({ state }: ReportInput): readonly Block[] =>
  state.corrections.length === 0
    ? []
    : [
        {
          block: 'table',
          caption: 'Corrections',
          columns: ['Corrected', 'By', 'Time', 'Reason'].map((label) => ({ label })),
          rows: state.corrections.map(({ corrects, by, at, reason }) => cells(corrects, by.name, moment(at), reason))
        }
      ]

const documents = ({ state }: ReportInput): Block =>
  tableOr(
    {
      caption: 'Documents',
      columns: ['Document', 'Name', 'Hash'].map((label) => ({ label })),
      rows: state.documents.map(({ what, name, document }) => cells(what, name ?? 'not stated', document))
    },
    'No document is in the record.'
  )

/** Nearly all entries are timed by the computer they were made on; what is timed otherwise says so. */
const entryTime = (at: Moment): string =>
  at.known === 'clock of this computer' ? moment(at).replace(/ \(.*/, '') : moment(at)

const entries = ({ state }: ReportInput): Block =>
  tableOr(
    {
      caption: 'Entries',
      columns: [
        { label: 'Number', figures: true },
        { label: 'Entry' },
        { label: 'Time' },
        { label: 'By' },
        { label: 'Hash' }
      ],
      rows: state.entries.map(({ seq, kind, at, by, hash }) =>
        cells(String(seq), kind, entryTime(at), by, shortHash(hash))
      )
    },
    'No entry is in the record.'
  )
