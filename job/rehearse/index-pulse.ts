import type { HoleScene } from './scene.ts'

/** Level of the index channel after so many turns, with whatever is wrong with its marks. */
export function indexAt({ recorder: { index } }: HoleScene, turn: number): number {
  if (index.marks.none) return 0
  const since = turn - index.first_turn
  const mark = Math.floor(since)
  return index.height * Math.min(1, markAt(index, mark, since - mark) + markAt(index, mark + 1, since - mark - 1))
}

type Index = HoleScene['recorder']['index']

/** Pulse of one mark, `since` turns after its edge (below zero: before it), 0 to 1. */
function markAt(index: Index, mark: number, since: number): number {
  const { marks } = index
  if (mark < 0 || marks.lost.includes(mark)) return 0
  const again = marks.doubled.includes(mark) ? pulse(index, since - marks.doubled_turn) : 0
  const bounce = marks.bounced.includes(mark) ? pulse(index, since - marks.bounce_turn) : 0
  return pulse(index, since) + again + bounce
}

const pulse = (index: Index, since: number): number =>
  flank(since, index.rise_turn) - flank(since - index.width_turn, index.rise_turn)

/** Half its height at 0. */
function flank(since: number, rise: number): number {
  if (rise === 0) return since >= 0 ? 1 : 0
  return Math.min(1, Math.max(0, since / rise + 0.5))
}
