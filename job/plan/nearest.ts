/** "Did you mean": the name of a list that is fewest changes away, where that is few enough to be a typing error. */
export function nearest(name: string, known: readonly string[]): string | undefined {
  const wanted = name.toLowerCase()
  const most = Math.max(1, Math.floor(name.length / 3))
  const ranked = known.map((other) => ({ other, far: changes(wanted, other.toLowerCase()) }))
  const best = ranked.reduce((a, b) => (b.far < a.far ? b : a), { other: '', far: most + 1 })
  return best.far <= most ? best.other : undefined
}

/** Insertions, deletions, replacements and swaps of neighbors that turn one word into the other. */
export function changes(a: string, b: string): number {
  let before: number[] = []
  let row = Array.from({ length: b.length + 1 }, (_, j) => j)
  for (let i = 1; i <= a.length; i++) {
    const next = [i]
    for (let j = 1; j <= b.length; j++) {
      const same = a[i - 1] === b[j - 1] ? 0 : 1
      const swapped = i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]
      const plain = Math.min(next[j - 1]! + 1, row[j]! + 1, row[j - 1]! + same)
      next.push(swapped ? Math.min(plain, before[j - 2]! + 1) : plain)
    }
    before = row
    row = next
  }
  return row[b.length]!
}
