/** Two ways through the same points: what belongs to the probe kept from point to point, or all made anew at each. */
interface Ways {
  readonly keeping: () => readonly (readonly [number, number])[]
  readonly alone: () => unknown
}

/** One JSON line: the answers, and processor time of the first pass and of later ones (the middle of `repeats`). */
export function sayTimes({ keeping, alone }: Ways, repeats: number): void {
  const first = timed(keeping)
  const warm = middle(keeping, repeats)
  const warmAlone_s = middle(alone, repeats)
  console.log(
    JSON.stringify({ change: first.value, points_s: first.seconds, warmPoints_s: warm, warmAlone_s, warmSweep_s: warm })
  )
}

export function timed<T>(work: () => T): { readonly value: T; readonly seconds: number } {
  const from = process.cpuUsage()
  const value = work()
  const { user, system } = process.cpuUsage(from)
  return { value, seconds: (user + system) / 1e6 }
}

export const middle = (work: () => unknown, repeats: number): number =>
  Array.from({ length: repeats }, () => timed(work).seconds).sort((a, b) => a - b)[Math.floor(repeats / 2)]!
