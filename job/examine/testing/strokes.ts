/** Test help: mean traces of feeds that the test draws, so that every depth is known. Invented. */
import type { Random } from '@trueloop/ground/numerics'
import type { MeanTrace } from '../../standardize/index.ts'

const UNIT = 512
/** Elements of a trace are this many ruler points apart, as in the examination. */
const STEP = 4

/** Feed as depth at ruler points, straight between them. */
export type Feed = readonly { readonly point: number; readonly z_mm: number }[]

/**
 * From one depth to another in so many revolutions: pieces of uneven length with uneven feed, none of them backward, the
 * fastest at most `ratio` times the mean.
 */
export function legTo(feed: Feed, to_mm: number, leg: { revolutions: number; ratio: number; random: Random }): Feed {
  const { revolutions, ratio, random } = leg
  const from = feed.at(-1)!
  const pieces = Array.from({ length: 1 + random.below(7) }, () => ({
    length: 0.1 + random.uniform(),
    // a third of them dwells
    feed: random.below(3) === 0 ? 0 : random.uniform()
  }))
  if (pieces.every((piece) => piece.feed === 0)) pieces[0]!.feed = 1
  const length = pieces.reduce((sum, piece) => sum + piece.length, 0)
  const mean = pieces.reduce((sum, piece) => sum + piece.length * piece.feed, 0) / length
  const fastest = Math.max(...pieces.map((piece) => piece.feed / mean))
  // drawn toward the mean as far as the ratio asks; sometimes not at all faster than that
  const keep = fastest > ratio ? (ratio - 1) / (fastest - 1) : 1
  const out = [...feed]
  for (const piece of pieces) {
    const last = out.at(-1)!
    const share = piece.length / length
    const speed = 1 + keep * (piece.feed / mean - 1)
    out.push({
      point: last.point + share * revolutions * UNIT,
      z_mm: last.z_mm + share * speed * (to_mm - from.z_mm)
    })
  }
  return out
}

export function depthOn(feed: Feed, point: number): number {
  let i = 1
  while (i < feed.length - 1 && feed[i]!.point < point) i++
  const [a, b] = [feed[i - 1]!, feed[i]!]
  if (b.point === a.point) return b.z_mm
  return a.z_mm + ((b.z_mm - a.z_mm) * (point - a.point)) / (b.point - a.point)
}

export interface Bore {
  readonly grip_mm: number
  readonly joints_mm: readonly number[]
  /** height of the disturbance of every joint; the step from metal to air is 1 */
  readonly joint: number
  readonly noise: number
}

/** The mean over a revolution around each point, summed as its definition has it, of what is seen along the feed. */
export function traceOf(feed: Feed, bore: Bore, random: Random): MeanTrace {
  const length = Math.floor(feed.at(-1)!.point)
  const sums = { air: new Float64Array(length + 1), joint: new Float64Array(length + 1) }
  let piece = 1
  for (let point = 0; point < length; point++) {
    while (feed[piece]!.point < point) piece++
    const seen = seenAt(depthOn(feed.slice(piece - 1, piece + 1), point), bore)
    sums.air[point + 1] = sums.air[point]! + seen.air
    sums.joint[point + 1] = sums.joint[point]! + seen.joint
  }
  const count = Math.floor((length - UNIT) / STEP)
  const at = Float64Array.from({ length: count }, (_, i) => UNIT / 2 + i * STEP)
  const mean = (of: Float64Array) => at.map((point) => (of[point + UNIT / 2]! - of[point - UNIT / 2]!) / UNIT)
  const [air, joint] = [mean(sums.air), mean(sums.joint)]
  const some = () => bore.noise * random.normal()
  // air along (3, −4)/5, joints along (5, 12)/13, an operating point elsewhere
  return {
    at,
    x: air.map((value, i) => 7 + 0.6 * value + (5 / 13) * joint[i]! + some()),
    y: air.map((value, i) => -2 - 0.8 * value + (12 / 13) * joint[i]! + some())
  }
}

/** Air beyond the faces, over 1.2 mm centered on them; a bell 1 mm wide at half height at every joint. */
function seenAt(z_mm: number, { grip_mm, joints_mm, joint }: Bore) {
  const into = (d: number) => {
    const u = Math.min(1, Math.max(0, 0.5 + d / 1.2))
    return u * u * (3 - 2 * u)
  }
  let bells = 0
  for (const depth of joints_mm) bells += Math.exp(-4 * Math.LN2 * (z_mm - depth) * (z_mm - depth))
  return { air: 1 - into(z_mm) * into(grip_mm - z_mm), joint: joint * bells }
}
