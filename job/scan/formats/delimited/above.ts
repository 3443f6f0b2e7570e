/** What stands above the rows of a text recording: names, notes, a stated rate. */
import type { Rate } from '../../format.ts'
import { kindOf, type Style, splitLine } from './cells.ts'
import type { Line } from './lines.ts'
import type { Guess } from './style.ts'

/** Blank lines, comments and the line that states the separator. */
export const isAside = (text: string): boolean => text.trim() === '' || isComment(text) || SEPARATOR_LINE.test(text)
export const isComment = (text: string): boolean => /^\s*"?(#|%|\/\/)/.test(text)
export const SEPARATOR_LINE = /^"?sep=(.)"?$/i

/** The last rows above the data with the right number of cells and no number in them, else the last comment. */
export function headersOf(
  above: readonly Line[],
  guess: Guess
): { rows: readonly (readonly string[])[]; used: readonly Line[] } {
  const rows: (readonly string[])[] = []
  const used: Line[] = []
  for (const line of [...above].reverse()) {
    if (line.text.trim() === '') continue
    const cells = splitLine(line.text, guess.style.separator)
    if (isAside(line.text) || cells.length !== guess.cells || !isHeader(cells, guess.style)) break
    rows.unshift(cells)
    used.push(line)
  }
  return rows.length > 0 ? { rows, used } : commentHeader(above, guess)
}

const isHeader = (cells: readonly string[], style: Style): boolean =>
  cells.some((cell) => cell !== '') && !cells.some((cell) => kindOf(cell, style) === 'number')

function commentHeader(above: readonly Line[], guess: Guess): ReturnType<typeof headersOf> {
  const line = above.filter((one) => isComment(one.text)).at(-1)
  if (line === undefined) return { rows: [], used: [] }
  const cells = splitLine(line.text.replace(/^\s*"?(#|%|\/\/)+\s*/, ''), guess.style.separator)
  return cells.length === guess.cells && isHeader(cells, guess.style)
    ? { rows: [cells], used: [line] }
    : { rows: [], used: [] }
}

export const notesOf = (above: readonly Line[], used: readonly Line[]): readonly string[] =>
  above
    .filter((line) => !used.includes(line) && line.text.trim() !== '' && !SEPARATOR_LINE.test(line.text))
    .slice(0, 32)
    .map((line) => line.text.trim().slice(0, 200))

const RATE =
  /(?:sampl\w*[\s_-]*(?:rate|freq\w*)?|\brate|\bfs)\b[^\d]{0,16}?(\d+(?:\.\d+)?)\s*[,;\t]?\s*(k|M)?(?:Hz|S\/s)/i

/** A line above the rows that states the sample rate with its unit. */
export function statedRate(above: readonly Line[]): Rate | undefined {
  for (const { text } of above) {
    const found = RATE.exec(text)
    if (found === null) continue
    const value = Number(found[1]) * (found[2] === undefined ? 1 : found[2].toLowerCase() === 'k' ? 1e3 : 1e6)
    return { value, certainty: 0.9, reason: `stated above the rows: "${text.trim().slice(0, 80)}"` }
  }
  return undefined
}
