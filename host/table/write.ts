/** Cells as text; undefined where there is nothing. */
export type Cells = readonly (string | number | undefined)[]

/** A table as CSV (RFC 4180), its header first; figures to their last digit. */
export const tableText = (rows: readonly Cells[]): string =>
  rows.map((row) => `${row.map(cellText).join(',')}\r\n`).join('')

function cellText(cell: string | number | undefined): string {
  const text = String(cell ?? '')
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text
}
