/** The part of the wall that is shown: turns across (beyond 0 and 1 the wall repeats), depth down. */
export interface View {
  readonly turnFrom: number
  readonly turnTo: number
  readonly depthFrom: number
  readonly depthTo: number
}

/** So much of a turn is drawn twice, on either side, so that nothing is cut at the seam. */
export const margin = 1 / 12

export const wholeView = ({ from, to }: { readonly from: number; readonly to: number }): View => ({
  turnFrom: -margin,
  turnTo: 1 + margin,
  depthFrom: from,
  depthTo: to
})

/** Nearer by `factor` (below 1: farther), the spot staying where it is. Not farther than the whole, nor nearer than 1/60 of it. */
export function zoomed(
  view: View,
  whole: View,
  factor: number,
  spot: { readonly turn: number; readonly depth: number }
): View {
  const turns = nearer(view.turnFrom, view.turnTo, spot.turn, factor)
  const depths = nearer(view.depthFrom, view.depthTo, spot.depth, factor)
  return held({ turnFrom: turns[0], turnTo: turns[1], depthFrom: depths[0], depthTo: depths[1] }, whole)
}

const nearer = (from: number, to: number, at: number, factor: number): readonly [number, number] => [
  at - (at - from) / factor,
  at + (to - at) / factor
]

/** Shifted by shares of what is shown, as far as there is something to show. */
export function panned(view: View, whole: View, across: number, down: number): View {
  const turns = across * (view.turnTo - view.turnFrom)
  const depths = down * (view.depthTo - view.depthFrom)
  return held(
    {
      turnFrom: view.turnFrom + turns,
      turnTo: view.turnTo + turns,
      depthFrom: view.depthFrom + depths,
      depthTo: view.depthTo + depths
    },
    whole
  )
}

const mostNear = 60

/** Within the whole: shifted back where it goes beyond, cut where it is larger, spread where it is too small to mean anything. */
export function held(view: View, whole: View): View {
  const [turnFrom, turnTo] = heldRange([view.turnFrom, view.turnTo], [whole.turnFrom, whole.turnTo])
  const [depthFrom, depthTo] = heldRange([view.depthFrom, view.depthTo], [whole.depthFrom, whole.depthTo])
  return { turnFrom, turnTo, depthFrom, depthTo }
}

type Range = readonly [number, number]

function heldRange([from, to]: Range, [least, most]: Range): Range {
  const all = most - least
  if (to - from >= all) return [least, most]
  const span = Math.max(all / mostNear, to - from)
  const middle = (from + to) / 2
  const start = Math.min(Math.max(middle - span / 2, least), most - span)
  return [start, start + span]
}
