import { type Block, cells, paragraph, tableOr } from './blocks.ts'
import type { HeldRow } from './kinds/registering.ts'
import { shortHash } from './print.ts'
import type { ReportInput } from './report-input.ts'
import type { JobState } from './state.ts'

/** What was used, as it stood in the registers of the shop: each row once, with the days on which it was used. */

interface UsedRow {
  readonly row: HeldRow
  readonly days: readonly string[]
}

export function usedRows({ held }: Pick<JobState, 'held'>): readonly UsedRow[] {
  const all = new Map<string, UsedRow>()
  for (const { day, rows } of held) {
    for (const row of rows) {
      const days = all.get(row.document)?.days ?? []
      all.set(row.document, { row, days: [...new Set([...days, day])].sort() })
    }
  }
  return [...all.values()]
}

export function registeredBlocks({ state }: ReportInput): readonly Block[] {
  const used = usedRows(state)
  if (used.length === 0) return [paragraph(nothing(state))]
  const table = {
    caption: 'In the registers, when used',
    columns: ['Register', 'Name', 'Certificate or revision', 'Holds', 'Used on', 'Row'].map((label) => ({ label })),
    rows: used.map(({ row, days }) =>
      cells(
        ...[row.what, row.name, row.edition === '' ? 'none' : row.edition, holdsText(row), daysText(days)],
        `${shortHash(row.document)}, entry ${row.seq} ${shortHash(row.entry)}`
      )
    )
  }
  return [tableOr(table, ''), ...falling(used)]
}

const nothing = ({ opened }: JobState): string =>
  opened.signing === 'required'
    ? 'Nothing was looked up in a register: nothing has been scanned.'
    : 'Nothing was looked up in a register: the archive had none when the job was opened. Names, certificates and equipment stand as they were entered.'

const holdsText = ({ spans }: HeldRow): string =>
  spans.length === 0 ? 'no date stated' : spans.map(spanText).join('; ')

function spanText({ of, from, until, ends = false }: HeldRow['spans'][number]): string {
  const begins = from === undefined ? '' : ` from ${from}`
  return until === undefined ? `${of}${begins}` : `${of}${begins} ${ends ? 'until before' : 'to'} ${until}`
}

const daysText = (days: readonly string[]): string =>
  days.length > 3 ? `${days[0]} to ${days.at(-1)}, ${days.length} days` : days.join(', ')

/** Held on the day, but not for long: whoever plans the next job has to know. */
function falling(used: readonly UsedRow[]): readonly Block[] {
  const lines = used.flatMap(({ row }) =>
    row.spans
      .filter(({ standing }) => standing === 'falls due')
      .map(({ of, until }) => `${of} of ${row.what} ${row.name}: ${until}`)
  )
  if (lines.length === 0) return []
  return [{ block: 'caution', tone: 'note', title: 'Ends within 30 days of use', text: `${lines.join('; ')}.` }]
}
