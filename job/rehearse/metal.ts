import { exp, tan } from '@trueloop/ground/numerics'
import { smoothStep } from './bell.ts'
import type { Face, Gap, HoleScene } from './scene.ts'
import { faceAt } from './shapes.ts'
import type { Place, Term } from './term.ts'

/** Share of metal under a pick-up, 0 in air to 1. */
export type Metal = (at: Place) => number

/** Every contribution asks for the metal at the same place: the last answer is kept. */
export function metalOf({ hole, fault }: HoleScene): Metal {
  if (fault.kind === 'in air') return () => 0
  const { grip_m } = hole
  const entry = farFrom(hole.entry)
  const exit = farFrom(hole.exit)
  const seen = hole.gap === undefined ? () => 1 : throughGap(hole.gap)
  let [lastWall, lastZ, share] = [Number.NaN, Number.NaN, 0]
  return ({ wall, z }) => {
    if (wall === lastWall && z === lastZ) return share
    lastWall = wall
    lastZ = z
    const from = entry(z) ?? smoothStep((z - faceAt(hole.entry, wall)) / hole.entry.width_m)
    const to = exit(grip_m - z) ?? smoothStep((grip_m + faceAt(hole.exit, wall) - z) / hole.exit.width_m)
    share = from * to * seen(z)
    return share
  }
}

/** The share of metal where the tilt of a face can not matter, so many m inside of it: no cosine is needed there. */
function farFrom({ width_m, tilt_m }: Face): (inside: number) => 0 | 1 | undefined {
  const far = 0.5 * width_m + Math.abs(tilt_m) + 1e-9
  return (inside) => (inside > far ? 1 : inside < -far ? 0 : undefined)
}

function throughGap({ oversize_m, countersink, decay_m }: Gap): (z: number) => number {
  const slope = tan(countersink.half_angle_rad)
  const { depth_m } = countersink
  return (z) => exp(-(oversize_m + slope * Math.min(depth_m, Math.max(0, depth_m - z))) / decay_m)
}

/** Terms that are there only as far as there is metal. */
export function weighed(metal: Metal, terms: readonly Term[]): Term {
  const part = { x: 0, y: 0 }
  return (at, sum) => {
    const share = metal(at)
    if (share === 0) return
    part.x = 0
    part.y = 0
    for (const term of terms) term(at, part)
    sum.x += share * part.x
    sum.y += share * part.y
  }
}
