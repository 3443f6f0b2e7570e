/** Most numbers that are listed for one series: a list of thousands tells nobody anything. */
const most = 50

/**
 * Numbers that are missing in numbered names: of "P01, P02, P04" it is "P03". Names belong together by what stands before
 * and after their last number; a series begins and ends with the numbers that are there.
 */
export function gapsIn(names: readonly string[]): readonly string[] {
  const series = new Map<
    string,
    { readonly before: string; readonly rest: string; readonly numbers: Set<number>; wide: number }
  >()
  for (const name of names) {
    const [, before = '', digits = '', rest = ''] = /^(.*?)(\d{1,9})(\D*)$/s.exec(name) ?? []
    if (digits === '') continue
    const key = JSON.stringify([before, rest])
    const one = series.get(key) ?? { before, rest, numbers: new Set(), wide: digits.length }
    one.numbers.add(Number(digits))
    one.wide = Math.min(one.wide, digits.length)
    series.set(key, one)
  }
  return [...series.values()].flatMap(({ before, rest, numbers, wide }) =>
    missingIn(numbers).map((number) =>
      typeof number === 'string' ? number : `${before}${String(number).padStart(wide, '0')}${rest}`
    )
  )
}

function missingIn(numbers: ReadonlySet<number>): readonly (number | string)[] {
  const sorted = [...numbers].sort((a, b) => a - b)
  const missing: number[] = []
  let count = 0
  for (const [at, number] of sorted.entries()) {
    const before = sorted[at - 1] ?? number - 1
    count += number - before - 1
    for (let one = before + 1; one < number && missing.length < most; one++) missing.push(one)
  }
  return count > missing.length ? [...missing, `… (${count} in all)`] : missing
}
