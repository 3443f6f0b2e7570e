import { placeText, type Refusal } from '@trueloop/ground/refusal'
import { type Exit, exit, exitOf } from '../exit.ts'
import { outcome } from './process.ts'

/** What a command says: its result on stdout (text, or one JSON document), refusals and progress on stderr. */

export interface Said {
  /** name and version of the JSON document, such as `examine/1` */
  readonly document: string
  readonly json: boolean
  readonly refusals: readonly Refusal[]
  /** where refusals alone don't decide it: something waits for a person */
  readonly waiting?: boolean
  /** where something else decides it: an interruption, a record that is not whole */
  readonly exit?: Exit | undefined
  readonly text: readonly string[]
  readonly data: Readonly<Record<string, unknown>>
}

export const line = (text = ''): void => void process.stdout.write(`${text}\n`)

/** Says it and sets the exit code. */
export function say(said: Said): Exit {
  const waits = said.waiting === true ? exit.waiting : exit.done
  const code = said.exit ?? (said.refusals.length > 0 ? exitOf(said.refusals) : waits)
  const { document, refusals, data } = said
  if (said.json) line(JSON.stringify({ trueloop: document, exit: code, refusals, ...data }, null, 2))
  else {
    for (const text of said.text) line(text)
    for (const refusal of refusals) process.stderr.write(`${refusalText(refusal)}\n`)
  }
  outcome.exit = code
  return code
}

/** The three parts of a refusal, and the place. */
export function refusalText(refusal: Refusal): string {
  const place = refusal.where === undefined ? '' : placeText(refusal.where)
  const rows = [
    ...(place === '' ? [] : [`  where:      ${place}`]),
    `  found:      ${refusal.found}`,
    `  needed:     ${refusal.needed}`,
    `  what to do: ${refusal.remedy}`
  ]
  return [`refused: ${refusal.code}`, ...rows].join('\n')
}

/** Rows of equal columns; figures to the right. */
export function table(rows: readonly (readonly string[])[]): readonly string[] {
  const count = Math.max(0, ...rows.map((row) => row.length))
  const widths = Array.from({ length: count }, (_, at) => Math.max(...rows.map((row) => (row[at] ?? '').length)))
  const isFigure = (at: number): boolean => rows.slice(1).every((row) => /^[-\d.,%]*( %| mm)?$/.test(row[at] ?? ''))
  return rows.map((row) =>
    row
      .map((cell, at) => (isFigure(at) ? cell.padStart(widths[at] ?? 0) : cell.padEnd(widths[at] ?? 0)))
      .join('  ')
      .trimEnd()
  )
}
