import { fromTrade, meters } from '@trueloop/ground/quantity'
import type { Result } from '@trueloop/ground/refusal'
import { inductance_H, type PlacedCoil } from '@trueloop/metal/fields'
import { refuse } from '../codes.ts'
import type { HoleSheet } from '../sheet.ts'
import type { PickUps, Winding } from '../winding.ts'

/** The driving winding as the sheet states it. Refuses: plan/no-winding, plan/coil-through-wall. */
export function coilOf({ technique: { probe }, holes }: HoleSheet): Result<PlacedCoil> {
  const winding = probe?.winding
  if (winding === undefined)
    return refuse('plan/no-winding', {
      found: 'a technique that does not say what coil drives the wall',
      needed: 'radii, length, turns and lift-off of the winding: nothing of a field can be worked out without it',
      remedy: 'write technique.probe.winding, from the drawing of the probe or an X-ray of it',
      where: { path: 'technique.probe.winding' }
    })
  const narrowest = holes.reduce((least, { diameter_mm }) => Math.min(least, diameter_mm), Number.POSITIVE_INFINITY)
  const widest = Math.max(winding.outer_radius_mm, probe?.pick_ups?.outer_radius_mm ?? 0)
  return 2 * widest < narrowest ? placed(winding) : throughWall(widest, narrowest)
}

/** A face as round as the hole may be wider than a flat one that fits in; wider than the hole none is. */
const throughWall = (radius_mm: number, diameter_mm: number): Result<never> =>
  refuse('plan/coil-through-wall', {
    found: `a winding of ${2 * radius_mm} mm in a hole of ${diameter_mm} mm`,
    needed: 'a winding narrower than the narrowest hole of the sheet',
    remedy: 'correct the radii of the winding, or plan that hole with another probe',
    where: { path: 'technique.probe' }
  })

/** The pair that listens, where the sheet states it. */
export const pickUpsOf = ({ technique: { probe } }: HoleSheet): PlacedCoil | undefined =>
  probe?.pick_ups === undefined ? undefined : placed(probe.pick_ups)

const placed = (stated: Winding | PickUps): PlacedCoil => ({
  coil: {
    innerRadius: fromTrade(stated.inner_radius_mm, 'mm'),
    outerRadius: fromTrade(stated.outer_radius_mm, 'mm'),
    length: fromTrade(stated.length_mm, 'mm'),
    turns: stated.turns
  },
  liftOff: meters(1e-3 * stated.lift_off_mm)
})

/** Only fastener holes have a model of their flaws. */
export const notAHole = (application: string): Result<never> =>
  refuse('plan/no-settings', {
    found: `a technique for a ${application}`,
    needed: 'a technique for fastener holes: no other has a model of its flaws yet',
    remedy: 'take the settings from the procedure',
    where: { path: 'technique.application' }
  })

/** Inductance of the winding in air, H. */
export const inductanceOf = ({ coil }: PlacedCoil) => inductance_H(coil)
