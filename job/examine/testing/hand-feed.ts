/** Test help: hand feeds of the generator with what is true of them. */
import type { HoleTechnique } from '../../plan/index.ts'
import type { HoleScene } from '../../rehearse/index.ts'
import type { Recorded } from './hole.ts'

type Points = readonly { readonly turn: number; readonly z_m: number }[]

export function pointsOf({ motion: { feed } }: HoleScene): Points {
  if (feed.kind !== 'profile') throw new Error('no hand feed')
  return feed.points
}

export function depthAtTurn(points: Points, turn: number): number {
  let i = 1
  while (i < points.length - 1 && points[i]!.turn < turn) i++
  const [a, b] = [points[i - 1]!, points[i]!]
  return a.z_m + ((b.z_m - a.z_m) * (turn - a.turn)) / (b.turn - a.turn)
}

/** Turns at which the feed passes a depth, in order. */
export const passesAt = (points: Points, z_m: number): readonly number[] =>
  points.slice(1).flatMap((to, k) => {
    const from = points[k]!
    const met = from.z_m < z_m !== to.z_m < z_m
    return met ? [from.turn + ((z_m - from.z_m) * (to.turn - from.turn)) / (to.z_m - from.z_m)] : []
  })

/** The true ratio of fastest to mean feed between neighboring faces and joints, the largest of all strokes. */
export function trueRatio(scene: HoleScene): number {
  const points = pointsOf(scene)
  const places = [0, ...scene.joints.map(({ z_m }) => z_m), scene.hole.grip_m]
  const ties = places.map((z) => passesAt(points, z))
  const strokes = ties[0]!.length
  let most = 1
  for (let stroke = 0; stroke < strokes; stroke++) {
    for (let i = 1; i < places.length; i++) {
      const ends = [ties[i - 1]![stroke]!, ties[i]![stroke]!].sort((a, b) => a - b) as [number, number]
      const mean = (places[i]! - places[i - 1]!) / (ends[1] - ends[0])
      most = Math.max(most, fastestIn(points, ends) / mean)
    }
  }
  return most
}

function fastestIn(points: Points, [from, to]: readonly [number, number]): number {
  return points.slice(1).reduce((most, b, k) => {
    const a = points[k]!
    return b.turn > from && a.turn < to ? Math.max(most, Math.abs(b.z_m - a.z_m) / (b.turn - a.turn)) : most
  }, 0)
}

/** Longest length along the axis, m, between two neighboring passes of any angle over a stretch of depth, its ends included. */
export function longestUnpassed(scene: HoleScene, { z0_m, z1_m }: { z0_m: number; z1_m: number }): number {
  const points = pointsOf(scene)
  let longest = 0
  for (let angle = 0; angle < 1; angle += 1 / 8) {
    const depths: number[] = []
    for (let turn = angle; turn < points.at(-1)!.turn; turn++) depths.push(depthAtTurn(points, turn))
    const inside = [z0_m, z1_m, ...depths.filter((z) => z > z0_m && z < z1_m)].sort((a, b) => a - b)
    for (const [i, z] of inside.slice(1).entries()) longest = Math.max(longest, z - inside[i]!)
  }
  return longest
}

export const byHand = (
  strokes: NonNullable<HoleTechnique['hand_feed']>['strokes'],
  fastest_to_mean: number
): Pick<HoleTechnique, 'axial_position' | 'hand_feed'> => ({
  axial_position: 'hand feed, by strokes',
  hand_feed: { strokes, fastest_to_mean }
})

/** One recording up to the middle of the rest beyond the exit face, another from there on. */
export function spliced(scene: HoleScene, first: Recorded, second: Recorded): Recorded {
  const points = pointsOf(scene)
  const deepest = points.reduce((most, { z_m }) => Math.max(most, z_m), 0)
  const resting = points.filter(({ z_m }) => z_m === deepest).map(({ turn }) => turn)
  const share = resting.reduce((sum, turn) => sum + turn, 0) / resting.length / points.at(-1)!.turn
  const at = Math.round(share * first.x.length)
  const joined = (a: Float64Array, b: Float64Array) => a.map((value, i) => (i < at ? value : b[i]!))
  return { ...first, x: joined(first.x, second.x), y: joined(first.y, second.y) }
}
