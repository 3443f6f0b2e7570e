import type { PlaceDetail } from '../asking/client.ts'
import type { Spot } from '../wall/depth-axis.ts'
import type { MarkOnWall } from './map-scene.ts'

/** What is looked at first: what waits, the strongest before all. */
export function firstMark(marks: readonly MarkOnWall[], { indications }: PlaceDetail): MarkOnWall | undefined {
  const rank = (id: string): number => {
    const one = indications.find((indication) => indication.id === id)
    const amplitude = one?.seen[one.strongest]?.amplitude ?? 0
    return one?.open === true ? 1e6 + amplitude : amplitude
  }
  return marks.toSorted((a, b) => rank(b.id) - rank(a.id))[0]
}

/** What is looked at first where there is no map: what waits, the strongest before all. */
export function firstOpen({ indications }: Pick<PlaceDetail, 'indications'>): string | undefined {
  const rank = (one: PlaceDetail['indications'][number]) =>
    (one.open ? 1e6 : 0) + (one.seen[one.strongest]?.amplitude ?? 0)
  return indications.toSorted((a, b) => rank(b) - rank(a))[0]?.id
}

/** The indication before or after the chosen one, around the ends; undefined where there is none. */
export function neighborOf(
  { indications }: Pick<PlaceDetail, 'indications'>,
  chosen: string | undefined,
  by: 1 | -1
): string | undefined {
  const at = indications.findIndex(({ id }) => id === chosen)
  return indications.at((at + by + indications.length) % Math.max(1, indications.length))?.id
}

/** Where nothing is marked: a quarter around, half way down. */
export const middleOf = ({ from, to }: { readonly from: number; readonly to: number }): Spot => ({
  turn: 0.25,
  depth: (from + to) / 2
})
