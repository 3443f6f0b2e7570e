import type { Random } from '@trueloop/ground/numerics'
import { logNormal, rounded, slots, within } from './chance.ts'
import type { Aspects, DrawnNotch, Geometry, Spread } from './geometry.ts'

/** A corner notch is as long as deep, so that a shallow one answers less than one of the bore: they begin deeper. */
const DEPTHS_mm = {
  'mid-bore': { 4: [0.25, 0.5, 0.9, 1.5], 5: [0.22, 0.4, 0.65, 1, 1.55] },
  'entry corner': { 4: [0.34, 0.6, 1, 1.55], 5: [0.32, 0.5, 0.75, 1.1, 1.6] }
} as const

export interface NotchForm {
  readonly aspects: Aspects
  readonly spread: Spread
  readonly geometry: Geometry
}

/**
 * Mid-bore and entry-corner notches, four of each below a diameter of 7 mm, else five, in turn around the hole at even
 * distances of 36° or more: neighbors at one depth are of the other kind.
 */
export function drawNotches(form: NotchForm, random: Random): readonly DrawnNotch[] {
  const count = form.geometry.diameter_mm < 7 ? 4 : 5
  const start = random.uniform()
  const orders = { 'mid-bore': slots(random, count, 0), 'entry corner': slots(random, count, 0) }
  return (['mid-bore', 'entry corner'] as const).flatMap((place, kind) =>
    DEPTHS_mm[place][count].map((depth, k) => {
      const turn = start + Math.round((orders[place][k]! - orders[place][0]!) * count) / count + kind / (2 * count)
      return drawn({ place, depth_mm: rounded(depth * within(random, [0.95, 1.05]), 0.01), turn }, form, random)
    })
  )
}

interface Wanted {
  readonly place: DrawnNotch['place']
  readonly depth_mm: number
  readonly turn: number
}

function drawn(
  { place, depth_mm, turn }: Wanted,
  { aspects, spread, geometry }: NotchForm,
  random: Random
): DrawnNotch {
  const length_mm = rounded(depth_mm * aspects[place] * logNormal(random, spread.aspect), 0.01)
  const z0_mm = place === 'mid-bore' ? rounded((geometry.thickness_mm - length_mm) / 2, 0.01) : 0
  return {
    id: `${place} ${depth_mm} mm`,
    ...{ place, depth_mm, length_mm, z0_mm },
    angle_deg: rounded(360 * (turn - Math.floor(turn)), 0.1),
    z1_mm: rounded(z0_mm + length_mm, 0.01),
    scatter: logNormal(random, spread.notch)
  }
}
