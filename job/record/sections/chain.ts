import { type Block, cells, paragraph, tableOr } from '../blocks.ts'
import type { Moment } from '../kinds/parts.ts'
import { methodsOf } from '../lookups.ts'
import { moment, shortHash } from '../print.ts'
import type { ReportInput, Section } from '../report-input.ts'
import type { Change } from '../state.ts'

/** The entries that this report is a projection of, and the end of their chain: what `verify --head` compares with. */
export const chain: Section = {
  title: 'Record',
  ofRecord: true,
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
  state.changes.length === 0
    ? []
    : [
        {
          block: 'table',
          caption: 'Corrections',
          columns: ['Corrected', 'Before', 'Now', 'By', 'Time', 'Reason'].map((label) => ({ label })),
          rows: state.changes.map((one) => cells(...changeTexts(one)))
        }
      ]

/** What stood there stays readable, in the report too. */
function changeTexts({ entry, seq, kind, differences }: Change): readonly string[] {
  const { by, at, reason, becomes, signed } = entry
  const side = (of: 'was' | 'now') => differences.map((one) => `${one.path}: ${one[of]}`).join('; ') || 'the same'
  const [was, now] = becomes === 'withdrawn' ? ['as it was written', 'withdrawn'] : [side('was'), side('now')]
  const hand = signed === undefined || signed === false ? `${by.name}, unsigned` : by.name
  return [`entry ${seq}, ${kind}`, was, now, hand, moment(at), reason]
}

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
