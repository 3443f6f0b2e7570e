/** Small helpers of the tables. */

/** Share from 0 to 1 of the items for which it is so; NaN of none. */
export const shareOf = <T>(items: readonly T[], is: (item: T) => boolean): number =>
  items.filter(is).length / items.length

export const sumOf = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0)

/** Middle value; NaN of none. An open interval may be given as infinitely wide. */
export function middleOf(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b)
  const half = sorted.length / 2
  if (sorted.length === 0) return Number.NaN
  return sorted.length % 2 === 1 ? sorted[Math.floor(half)]! : 0.5 * (sorted[half - 1]! + sorted[half]!)
}

export function countsOf(names: readonly string[]): Readonly<Record<string, number>> {
  const counts = new Map<string, number>()
  for (const name of names) counts.set(name, (counts.get(name) ?? 0) + 1)
  return Object.fromEntries([...counts].sort(([a], [b]) => (a < b ? -1 : 1)))
}

/** Groups in the order in which their names are first met. */
export function groupsOf<T>(items: readonly T[], nameOf: (item: T) => string): ReadonlyMap<string, readonly T[]> {
  const groups = new Map<string, T[]>()
  for (const item of items) {
    const group = groups.get(nameOf(item))
    if (group === undefined) groups.set(nameOf(item), [item])
    else group.push(item)
  }
  return groups
}

/** Figures for a file: three decimals, and `null` where a figure does not exist. */
export const figure = (value: number): number | null => (Number.isFinite(value) ? Number(value.toFixed(3)) : null)

/** Lines of a table from its head and rows, columns as wide as they need. */
export function tableOf(head: readonly string[], rows: readonly (readonly (string | number | null)[])[]): string[] {
  const cells = [head, ...rows.map((row) => row.map((cell) => (cell === null ? '–' : String(cell))))]
  const widths = head.map((_, column) => Math.max(...cells.map((row) => row[column]?.length ?? 0)))
  const lineOf = (row: readonly string[]): string =>
    row.map((cell, column) => (column === 0 ? cell.padEnd(widths[0]!) : cell.padStart(widths[column]!))).join('  ')
  return cells.map((row) => lineOf(row).trimEnd())
}
