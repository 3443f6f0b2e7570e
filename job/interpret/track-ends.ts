import type { Part } from './track-parts.ts'
import type { Step } from './track-steps.ts'

/** A flaw so long that its ends were told one by one: from a step to the next step back. */
export interface Pair {
  readonly from: Step
  readonly to: Step | undefined
}

/**
 * Ends joined to the flaws whose they are: a step and the next one the other way, of like height. An end that has no other
 * stands for itself: the plate beside it is not known. Steps that are no ends are the plate's.
 */
export function pairsOf(steps: readonly Step[], alike: number): readonly Pair[] {
  const ends = steps.filter(({ isEnd }) => isEnd)
  const pairs: Pair[] = []
  for (let i = 0; i < ends.length; i++) {
    const [from, next] = [ends[i]!, ends[i + 1]]
    const isPair = next !== undefined && areEnds(from, next, alike)
    pairs.push({ from, to: isPair ? next : undefined })
    if (isPair) i++
  }
  return pairs
}

function areEnds(a: Step, b: Step, alike: number): boolean {
  if (a.height * b.height >= 0) return false
  const [low, high] = [Math.abs(a.height), Math.abs(b.height)].sort((x, y) => x - y) as [number, number]
  return low >= alike * high
}

/** A pair as a part: drawn as far as its first end was kept. */
export function partOfPair({ from, to }: Pair, part: Pick<Part, 'x' | 'y' | 'coating' | 'drawnFrom'>): Part {
  const sense = from.height > 0 ? 1 : -1
  const end = to?.at ?? from.stretch.to
  return {
    ...part,
    stretch: from.stretch,
    from: Math.floor(from.at),
    to: Math.ceil(end),
    sense,
    peak: Math.min(from.stretch.to, Math.round(from.at + 0.5 * (from.stretch.to - from.at))),
    level: Math.max(Math.abs(from.height), Math.abs(to?.height ?? 0)),
    half: { from: from.at, to: end },
    swing: 0,
    isWhole: to !== undefined
  }
}
