import { stat } from 'node:fs/promises'
import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import { abortable, bytesOf, headFrom } from '@trueloop/host/chain'
import { CERTAIN, type Column, mappingOf, type Survey, survey } from '@trueloop/job/scan'
import { Command } from 'commander'
import { interrupted } from '../terminal/process.ts'
import { say, table } from '../terminal/say.ts'
import { unreadable } from '../terminal/unreadable.ts'

const example = `
Example:
  trueloop scan w-01.wav
  gzip -dc w-02.csv.gz | trueloop scan -

Prints the columns as guessed, each with its reason, and the line for the job sheet that confirms them.`

export const command = (): Command =>
  new Command('scan')
    .description('Reads the beginning of a recording and says what its columns seem to be, and why.')
    .argument('<recording>', 'file of the recording, or "-" for standard input: CSV, TSV or WAV')
    .option('--json', 'one JSON document, scan/1, on standard output')
    .addHelpText('after', example)
    .action(async (file: string, options: { json?: boolean }) => {
      const json = options.json === true
      const looked = await look(file)
      if (isRefusal(looked)) return void say({ document: 'scan/1', json, refusals: [looked], text: [], data: {} })
      report(file, looked, json)
    })

async function look(file: string): Promise<Result<Survey>> {
  try {
    if (file === '-') return survey(await headFrom(abortable(process.stdin, interrupted)), 'standard input')
    const found = await stat(file)
    return survey(await headFrom(bytesOf(file, interrupted)), file, found.isFile() ? found.size : undefined)
  } catch (error) {
    interrupted.throwIfAborted()
    return unreadable(file, error)
  }
}

function report(file: string, found: Survey, json: boolean): void {
  const mapping = mappingOf(found)
  const open = isRefusal(mapping) ? mapping : undefined
  say({
    document: 'scan/1',
    json,
    refusals: [],
    waiting: open !== undefined,
    text: textOf(file, found, open),
    data: { file, ...found, confirm: open ?? null, sheetLine: sheetLine(found.columns) }
  })
}

function textOf(file: string, found: Survey, open: Refusal | undefined): readonly string[] {
  const rate = found.rate_Hz
  return [
    `${file}: ${found.format}${Object.entries(found.details)
      .map(([key, value]) => `, ${key} ${value}`)
      .join('')}`,
    rate === undefined ? 'rate: not known; state rate_Hz in the job sheet' : `rate: ${rate.value} Hz (${rate.reason})`,
    '',
    ...table([['column', 'name', 'taken as', 'certainty', 'reason'], ...shown(found.columns).map(columnRow)]),
    ...more(found.columns),
    ...[...found.notes, ...found.doubts].map((note) => `note: ${note}`),
    '',
    open === undefined ? 'certain: it can be examined without a line in the job sheet' : `not certain: ${open.found}`,
    `to confirm or correct, in the job sheet: ${sheetLine(found.columns)}`
  ]
}

/** Of many columns those that are used, and the first of the others. */
const most = 16

const shown = (columns: readonly Column[]): readonly Column[] =>
  columns.filter(({ role }, at) => role !== 'ignore' || at < most)

const more = (columns: readonly Column[]): readonly string[] => {
  const hidden = columns.length - shown(columns).length
  return hidden === 0 ? [] : [`and ${hidden} more columns that neither name nor values speak for; --json lists them`]
}

const columnRow = ({ number, name, unit, role, certainty, reason }: Column): readonly string[] => [
  String(number),
  unit === undefined ? name : `${name} [${unit}]`,
  certainty >= CERTAIN || role === 'ignore' ? role : `${role} (a guess)`,
  certainty.toFixed(2),
  reason
]

/** The line of a job sheet that states the columns as guessed. */
function sheetLine(columns: readonly Column[]): string {
  const used = columns.filter(({ role }) => role !== 'ignore' && role !== 'angle')
  const open = ['x', 'y'].filter((role) => used.every((one) => one.role !== role))
  const parts = [...used.map(({ role, number }) => `${role}: ${number}`), ...open.map((role) => `${role}: …`)]
  return `columns: { ${parts.join(', ')} }`
}
