import { exp } from '@trueloop/ground/numerics'
import { smoothStep } from '../bell.ts'
import type { NeighborMetal } from '../scene.ts'
import { along, type Term } from '../term.ts'

/** From the joint it comes up over its width and then fades into its own layer; nothing on the other side. */
export function neighborMetalTerm({ z_m, side, width_m, reach_m, size, direction_rad }: NeighborMetal): Term {
  return along(direction_rad, ({ z }) => {
    const into = side * (z - z_m)
    const seen = smoothStep(into / width_m)
    return seen === 0 ? 0 : size * seen * exp(-Math.max(0, into) / reach_m)
  })
}
