import { isRefusal, type Refusal } from '@trueloop/ground/refusal'
import { techniqueSheetHtml, techniqueSheetPdf } from '@trueloop/host/press'
import { readSheetFile } from '@trueloop/host/sheet'
import {
  type BesideLine,
  besideLines,
  type SettingLine,
  type Settings,
  type SettingWarning,
  type Sheet,
  settingLines,
  settingsOf,
  sweepsCsv,
  sweepsOf
} from '@trueloop/job/plan'
import { say } from '../terminal/say.ts'
import { save } from './saving.ts'
import { techniqueSheetOf } from './technique-sheet.ts'

/** Settings of a job sheet, worked out; nothing is recorded. */

export interface SettingsWanted {
  readonly json: boolean
  /** another job sheet, to be seen beside it */
  readonly beside?: string | undefined
  /** where sweeps go, as CSV */
  readonly sweep?: string | undefined
  /** where the technique sheet goes, .html or .pdf */
  readonly sheet?: string | undefined
}

type Read = { readonly sheet: Sheet } | { readonly refusals: readonly Refusal[] }

export async function sayPlanned(path: string, wanted: SettingsWanted): Promise<void> {
  const read: Read = await readSheetFile(path)
  if ('refusals' in read) return refused(wanted, read.refusals)
  const settings = settingsOf(read.sheet)
  const written = await writeFiles(read.sheet, settings, wanted)
  if (isRefusal(settings)) return refused(wanted, [settings, ...written.refusals], written.files)
  if (wanted.beside !== undefined) return sayBeside(settings, { ...wanted, beside: wanted.beside }, written)
  say({
    document: 'settings/1',
    json: wanted.json,
    refusals: written.refusals,
    text: [...settingsText(settings), ...fileLines(written.files)],
    data: { settings, files: written.files }
  })
}

interface Written {
  readonly files: readonly string[]
  readonly refusals: readonly Refusal[]
}

const fileLines = (files: readonly string[]): readonly string[] => files.map((file) => `written: ${file}`)

const refused = ({ json }: SettingsWanted, refusals: readonly Refusal[], files: readonly string[] = []): void =>
  void say({ document: 'settings/1', json, refusals, text: fileLines(files), data: { files } })

/** A technique sheet is written where nothing could be worked out, too: it then says so. */
async function writeFiles(
  sheet: Sheet,
  settings: Settings | Refusal,
  { sweep, sheet: to }: SettingsWanted
): Promise<Written> {
  const contents: (readonly [string, string | Uint8Array | Refusal])[] = []
  if (sweep !== undefined) {
    const rows = isRefusal(settings) ? settings : sweepsOf(sheet)
    contents.push([sweep, isRefusal(rows) ? rows : sweepsCsv(rows)])
  }
  if (to !== undefined) {
    const paper = techniqueSheetOf(sheet, settings)
    contents.push([to, /\.pdf$/i.test(to) ? await techniqueSheetPdf(paper) : techniqueSheetHtml(paper)])
  }
  const files: string[] = []
  const refusals: Refusal[] = []
  for (const [path, content] of contents) {
    const saved = typeof content !== 'string' && isRefusal(content) ? content : await save(path, content)
    if (isRefusal(saved)) refusals.push(saved)
    else files.push(saved)
  }
  return { files, refusals: refusals.filter((one) => one !== settings) }
}

async function sayBeside(
  first: Settings,
  { json, beside }: SettingsWanted & { readonly beside: string },
  written: Written
): Promise<void> {
  const read: Read = await readSheetFile(beside)
  if ('refusals' in read) return refused({ json }, read.refusals, written.files)
  const second = settingsOf(read.sheet)
  if (isRefusal(second)) return refused({ json }, [second], written.files)
  const lines = besideLines(first, second)
  say({
    document: 'settings/1',
    json,
    refusals: written.refusals,
    text: [
      notice,
      ...besideText(lines, [first.procedure, second.procedure]),
      ...warningLines(first, first.procedure),
      ...warningLines(second, second.procedure),
      ...fileLines(written.files)
    ],
    data: { settings: first, beside: second, lines, files: written.files }
  })
}

/** What differs, part after part; the rest is counted. */
function besideText(lines: readonly BesideLine[], names: readonly [string, string]): readonly string[] {
  const apart = lines.filter(({ differs }) => differs)
  const same = lines.length - apart.length
  return [
    `first:  ${names[0]}`,
    `second: ${names[1]}`,
    ...[...new Set(apart.map(({ part }) => part))].flatMap((part) => [
      '',
      part,
      ...apart.filter((one) => one.part === part).flatMap(({ label, first, second }) => bothText(label, first, second))
    ]),
    '',
    `the same in both: ${same} lines (--json has them all)`
  ]
}

function bothText(label: string, first: string, second: string): readonly string[] {
  const head = `  ${label.padEnd(LABEL)}  `
  const one = `${head}${first.padEnd(36)}  ${second}`
  if (first.length <= 36 && one.length <= WIDE) return [one.trimEnd()]
  const width = WIDE - head.length - 8
  const side = (name: string, text: string) =>
    wrapped(text, width).map(
      (row, at) => `${' '.repeat(head.length)}${at === 0 ? name.padEnd(8) : ' '.repeat(8)}${row}`
    )
  const [top = '', ...rest] = [...side('first:', first), ...side('second:', second)]
  return [`${head}${top.slice(head.length)}`, ...rest]
}

const notice =
  'worked out from the field, not measured; nothing here is a setting before a named person has confirmed it. The approved procedure rules.'

/** Part after part, the line of the worst allowed case at the end of each. */
function settingsText(settings: Settings): readonly string[] {
  const lines = settingLines(settings)
  const parts = [...new Set(lines.map(({ part }) => part))]
  return [
    `settings for ${settings.procedure}: ${settings.frequency_kHz} kHz, ${settings.rotation_rpm} rpm`,
    notice,
    ...parts.flatMap((part) => ['', part, ...lines.filter((one) => one.part === part).flatMap(lineText)]),
    ...(settings.without_model.length === 0 ? [] : ['', `without a model: ${settings.without_model.join(', ')}`]),
    ...warningLines(settings)
  ]
}

const LABEL = 38
const WIDE = 116

/** Label, value, and on what it stands: on one row where that fits, else below it. */
function lineText({ label, value, stands_on }: SettingLine): readonly string[] {
  const head = `  ${label.padEnd(LABEL)}  `
  const one = `${head}${value.padEnd(16)}  ${stands_on}`
  if (one.length <= WIDE) return [one]
  const [first = '', ...more] = wrapped(value, WIDE - head.length)
  const rest = [...more, ...wrapped(stands_on, WIDE - head.length - 2).map((text) => `  ${text}`)]
  return [`${head}${first}`, ...rest.map((text) => `${' '.repeat(head.length)}${text}`)]
}

function wrapped(text: string, width: number): readonly string[] {
  const rows: string[] = []
  for (const word of text.split(' ')) {
    const last = rows[rows.length - 1]
    if (last === undefined || last.length + 1 + word.length > width) rows.push(word)
    else rows[rows.length - 1] = `${last} ${word}`
  }
  return rows
}

function warningLines(settings: Settings, of?: string): readonly string[] {
  const all: readonly SettingWarning[] = [...settings.zones.flatMap(({ warnings }) => warnings), ...settings.warnings]
  const notes = settings.zones.flatMap(({ notes: said }) => said)
  const title = of === undefined ? 'warnings' : `warnings, ${of}`
  return [
    '',
    `${title}: ${all.length}`,
    ...all.flatMap((one) => [`  ${one.of}: ${one.found}`, `    what to do: ${one.what_to_do} (${one.source})`]),
    ...[...new Set(notes)].map((note) => `  to be confirmed: ${note}`)
  ]
}
