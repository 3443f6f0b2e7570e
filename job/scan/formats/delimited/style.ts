/** How a table of text is written: separator, decimal mark, thousands mark, kinds of its cells. */
import { type CellKind, type Decimal, kindOf, numberOf, type Separator, type Style, splitLine } from './cells.ts'

export interface Guess {
  readonly style: Style
  /** cells of most rows */
  readonly cells: number
  readonly kinds: readonly CellKind[]
  readonly doubts: readonly string[]
}

const SEPARATORS: readonly Separator[] = [',', ';', '\t', '|', ' ']

/** What is stated rather than guessed. */
export interface Stated {
  readonly separator?: Separator
  readonly decimal?: Decimal
}

/** The style in which most cells of the lines are numbers; undefined where none gives a number. */
export function guessStyle(lines: readonly string[], stated: Stated): Guess | undefined {
  const text = lines.join('\n')
  const styles = stylesFor(text, stated)
  const scores = styles.map((style) => scoreOf(style, lines))
  const best = scores.reduce((top, score, at) => (score > (scores[top] ?? 0) ? at : top), 0)
  const style = styles[best]
  if (style === undefined || !((scores[best] ?? 0) > 0)) return undefined
  const rows = numericRows(style, lines)
  const cells = mostCommon(rows.map((row) => row.length))
  const whole = rows.filter((row) => row.length === cells)
  const doubts = stated.decimal === undefined ? doubtsOf(style, whole) : []
  return { style, cells, kinds: kindsOf(style, cells, whole), doubts }
}

function stylesFor(text: string, stated: Stated): readonly Style[] {
  const separators =
    stated.separator === undefined ? SEPARATORS.filter((mark) => text.includes(mark)) : [stated.separator]
  const decimals = stated.decimal === undefined ? (['.', ','] as const) : [stated.decimal]
  const usable = separators.length === 0 ? ([','] as const) : separators
  const marks = [undefined, ',', '.', "'", ' '].filter((mark) => mark === undefined || text.includes(mark))
  return marks.flatMap((thousands) =>
    usable.flatMap((separator) =>
      decimals
        .filter((decimal) =>
          isPossible({ separator, decimal, ...(thousands === undefined ? {} : { thousands }) }, text)
        )
        .map((decimal) => ({ separator, decimal, ...(thousands === undefined ? {} : { thousands }) }))
    )
  )
}

/** A mark has one meaning outside quotes. */
function isPossible({ separator, decimal, thousands }: Style, text: string): boolean {
  const quoted = text.includes('"')
  if (decimal === ',' && separator === ',' && !quoted) return false
  if (thousands === decimal || (thousands === separator && !quoted)) return false
  return true
}

function scoreOf(style: Style, lines: readonly string[]): number {
  return lines.reduce((sum, line) => sum + lineScore(style, line), 0)
}

function lineScore(style: Style, line: string): number {
  let score = 0
  for (const cell of splitLine(line, style.separator)) {
    const kind = kindOf(cell, style)
    score += kind === 'complex' ? 2 : kind === 'text' ? -1 : kind === 'blank' ? 0 : 1
  }
  return Math.max(0, score)
}

function numericRows(style: Style, lines: readonly string[]): readonly (readonly string[])[] {
  return lines.filter((line) => lineScore(style, line) > 0).map((line) => splitLine(line, style.separator))
}

function mostCommon(counts: readonly number[]): number {
  const tally = new Map<number, number>()
  for (const count of counts) tally.set(count, (tally.get(count) ?? 0) + 1)
  return [...tally].sort((a, b) => b[1] - a[1])[0]?.[0] ?? 0
}

function kindsOf(style: Style, cells: number, rows: readonly (readonly string[])[]): readonly CellKind[] {
  return Array.from({ length: cells }, (_, at) => {
    const kinds = rows.map((row) => kindOf(row[at] ?? '', style))
    const tally = (['number', 'clock', 'complex', 'text'] as const).map((kind) => [kind, count(kinds, kind)] as const)
    const best = tally.reduce((top, entry) => (entry[1] > top[1] ? entry : top))
    return best[1] > 0 ? best[0] : kinds.includes('nan') ? 'number' : 'text'
  })
}

const count = (kinds: readonly CellKind[], kind: CellKind): number => kinds.filter((one) => one === kind).length

/** A mark that could be the decimal one as well as the thousands one, in every cell that has it. */
function doubtsOf(style: Style, rows: readonly (readonly string[])[]): readonly string[] {
  const other: Style =
    style.thousands === undefined
      ? { separator: style.separator, decimal: style.decimal === '.' ? ',' : '.', thousands: style.decimal }
      : { separator: style.separator, decimal: style.thousands as Decimal }
  if (other.decimal !== '.' && other.decimal !== ',') return []
  if (other.separator === ',' && style.decimal === '.' && style.thousands === undefined) return []
  const cells = rows.flat().filter((cell) => numberOf(cell, style) !== undefined)
  const bothWays = cells.every((cell) => numberOf(cell, other) !== undefined)
  const unlike = cells.find((cell) => numberOf(cell, other) !== numberOf(cell, style))
  if (!bothWays || unlike === undefined) return []
  return [`"${unlike}" may be ${numberOf(unlike, style)} or ${numberOf(unlike, other)}`]
}
