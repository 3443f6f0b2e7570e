import { cos, TAU } from '@trueloop/ground/numerics'
import { smoothStep } from '../bell.ts'
import type { Bushing } from '../scene.ts'
import { along, type Term } from '../term.ts'

/** Other metal from z0 to z1: each pick-up sees all of it, the pair only what is uneven. */
export function bushingTerm({ z0_m, z1_m, width_m, uneven, uneven_turn, size, direction_rad }: Bushing): Term {
  return along(direction_rad, ({ wall, z }) => {
    const inside = smoothStep((z - z0_m) / width_m) * smoothStep((z1_m - z) / width_m)
    return inside === 0 ? 0 : size * inside * (1 + uneven * cos(TAU * (wall - uneven_turn)))
  })
}
