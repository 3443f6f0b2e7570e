/** What a column needs: its longest word, and all its texts on one line each. One unit for all. */
export interface Need {
  readonly least: number
  readonly most: number
}

/**
 * Widths of a table's columns in a room. Where all fits on one line, each takes what it needs and the table stays
 * narrow. Else each has its longest word, and what is left is shared by what each still wants, so that long texts wrap.
 * Where not even the words fit, the widest give way: their words are broken.
 */
export function columnWidths(needs: readonly Need[], room: number): readonly number[] {
  const most = sum(needs.map((need) => need.most))
  if (most <= room) return needs.map((need) => need.most)
  const least = needs.map((need) => need.least)
  if (sum(least) >= room) return capped(least, room)
  const wants = needs.map((need) => Math.sqrt(Math.max(0, need.most - need.least)))
  return shared({ least, most: needs.map((need) => need.most), wants, room })
}

const sum = (values: readonly number[]): number => values.reduce((all, value) => all + value, 0)

/** The largest cap under which all fit. */
function capped(values: readonly number[], room: number): readonly number[] {
  let [low, high] = [0, room]
  for (let step = 0; step < 40; step++) {
    const cap = (low + high) / 2
    if (sum(values.map((value) => Math.min(value, cap))) > room) high = cap
    else low = cap
  }
  return values.map((value) => Math.min(value, low))
}

interface Shares {
  readonly least: readonly number[]
  readonly most: readonly number[]
  readonly wants: readonly number[]
  readonly room: number
}

/** What one column does not need goes to the others. */
function shared({ least, most, wants, room }: Shares): readonly number[] {
  let [low, high] = [0, room]
  const at = (factor: number) => least.map((value, index) => Math.min(most[index]!, value + factor * wants[index]!))
  for (let step = 0; step < 60; step++) {
    const middle = (low + high) / 2
    if (sum(at(middle)) > room) high = middle
    else low = middle
  }
  return at(low)
}
