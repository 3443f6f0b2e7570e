/** Points at which one examined hole is stopped, by the steps that it takes. */
export interface Point {
  readonly at: number
  readonly when: 'before' | 'half' | 'after'
}

/** Before, within and after each step. */
export const pointsOf = (steps: readonly string[]): readonly Point[] =>
  steps.flatMap((name, at): readonly Point[] => [
    { at, when: 'before' },
    ...(name === 'write' ? [{ at, when: 'half' as const }] : []),
    { at, when: 'after' }
  ])

/**
 * The same without points that come to nothing else on the disk: of the changes inside one transaction, which nobody sees
 * before its commit, the first and the last do; after a step matters where something may be acknowledged then.
 */
export const fewPointsOf = (steps: readonly string[]): readonly Point[] =>
  pointsOf(steps).filter(({ at, when }) => {
    const isInner = [-1, 0, 1].every((by) => steps[at + by] === 'change')
    return when === 'after' ? acknowledging.has(steps[at] ?? '') : !isInner
  })

const acknowledging: ReadonlySet<string> = new Set(['rename', 'syncFolder', 'commit'])

export const pointText = (steps: readonly string[], { at, when }: Point): string => `${when} step ${at}, ${steps[at]}`

/** Some at a time, each as soon as there is room; results in the order of what is to be done. */
export async function sideBySide<T, R>(
  many: number,
  all: readonly T[],
  work: (one: T, at: number) => Promise<R>
): Promise<R[]> {
  const done: R[] = []
  let next = 0
  const hand = async (): Promise<void> => {
    for (let at = next++; at < all.length; at = next++) done[at] = await work(all[at] as T, at)
  }
  await Promise.all(Array.from({ length: many }, hand))
  return done
}
