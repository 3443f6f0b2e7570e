/** A text in plain ASCII on one line: everything else, and the backslash itself, as \uXXXX or \\. */
export const ascii = (text: string): string =>
  text
    .replaceAll('\\', '\\\\')
    .replaceAll(/[^\x20-\x7e]/g, (one) => `\\u${one.charCodeAt(0).toString(16).padStart(4, '0')}`)

/** Rows of columns that line up; a table for a monospaced page. */
export function columns(rows: readonly (readonly string[])[]): readonly string[] {
  const count = Math.max(0, ...rows.map((row) => row.length))
  const widths = Array.from({ length: count }, (_, at) => Math.max(...rows.map((row) => (row[at] ?? '').length)))
  return rows.map((row) =>
    row
      .map((cell, at) => cell.padEnd(widths[at] ?? 0))
      .join('  ')
      .trimEnd()
  )
}

/** Words in rows of at most 78 characters. */
export function wrapped(text: string): readonly string[] {
  const rows: string[] = []
  for (const word of text.split(' ')) {
    const last = rows.at(-1)
    if (last !== undefined && last.length + word.length < 78) rows[rows.length - 1] = `${last} ${word}`
    else rows.push(word)
  }
  return rows
}
