/** Elements whose statistic reaches `level` and is the largest of its sign among the neighbors in angle and along the axis, strongest first. */
export function peaksOf(
  statistic: Float64Array,
  { level, perTurn }: { readonly level: number; readonly perTurn: number }
): readonly number[] {
  const peaks = largestAmongNeighbors(statistic, level, perTurn)
  return peaks.sort((a, b) => Math.abs(statistic[b]!) - Math.abs(statistic[a]!) || a - b)
}

function largestAmongNeighbors(statistic: Float64Array, level: number, perTurn: number): number[] {
  const peaks: number[] = []
  for (let i = 0; i < statistic.length; i++) {
    const value = statistic[i]!
    if (value >= level ? isLargest(statistic, i, 1, perTurn) : value <= -level && isLargest(statistic, i, -1, perTurn))
      peaks.push(i)
  }
  return peaks
}

/** Neighbors on the own revolution come first: most places are beaten there. */
const ROWS = [0, -1, 1] as const

function isLargest(statistic: Float64Array, i: number, sign: 1 | -1, perTurn: number): boolean {
  const value = sign * statistic[i]!
  for (const row of ROWS) {
    for (let k = -1; k <= 1; k++) {
      const j = i + row * perTurn + k
      if (j === i || j < 0 || j >= statistic.length) continue
      const other = sign * statistic[j]!
      if (other > value || (other === value && j < i)) return false
    }
  }
  return true
}
