import type { Quantity } from '@trueloop/ground/quantity'
import type { Refusal } from '@trueloop/ground/refusal'
import { type FieldsCode, refuse } from '../codes.ts'

/** An air-core winding of rectangular section, its turns spread evenly over it. */
export interface Coil {
  readonly innerRadius: Quantity<'m'>
  readonly outerRadius: Quantity<'m'>
  readonly length: Quantity<'m'>
  readonly turns: number
}

/** A coil with its axis normal to the surface; lift-off from its lowest turns to the top of the uppermost layer. */
export interface PlacedCoil {
  readonly coil: Coil
  readonly liftOff: Quantity<'m'>
}

/** Cost grows like 1 / lift-off: below 1/1000 of the outer radius a plan would need more than 300 000 wave numbers. */
const LOWEST = 1 / 1000
/** Winding width and length at least this part of the outer radius; thinner ones need another tail of L0. */
const THINNEST = 1 / 100

/** Refuses: fields/bad-coil, fields/coil-too-thin. */
export function coilComplaint(coil: Coil): Refusal<FieldsCode> | undefined {
  const { innerRadius, outerRadius, length, turns } = coil
  const isCoil = innerRadius >= 0 && outerRadius > innerRadius && length > 0 && turns > 0
  if (!isCoil || !Number.isFinite(outerRadius + length + turns)) return badCoil(coil)
  return Math.min(outerRadius - innerRadius, length) >= THINNEST * outerRadius ? undefined : tooThin(coil)
}

const sizes = ({ innerRadius, outerRadius, length, turns }: Coil): string =>
  `radii ${innerRadius} m and ${outerRadius} m, length ${length} m, ${turns} turns`

const badCoil = (coil: Coil): Refusal<FieldsCode> =>
  refuse('fields/bad-coil', {
    found: sizes(coil),
    needed: 'an outer radius above the inner one, a length and a number of turns above zero',
    remedy: 'give the dimensions of the winding itself, from the drawing or an X-ray of the probe'
  })

const tooThin = (coil: Coil): Refusal<FieldsCode> =>
  refuse('fields/coil-too-thin', {
    found: sizes(coil),
    needed: 'a winding at least 1/100 of its outer radius wide and long',
    remedy: 'give the width and length of the insulated winding, not of the bare wire'
  })

/** Refuses: as coilComplaint, and fields/coil-through-surface, fields/lift-off-too-small. */
export function placedComplaint({ coil, liftOff }: PlacedCoil): Refusal<FieldsCode> | undefined {
  const bad = coilComplaint(coil)
  if (bad !== undefined) return bad
  if (!(liftOff >= 0) || !Number.isFinite(liftOff)) return throughSurface(liftOff)
  return liftOff >= LOWEST * coil.outerRadius ? undefined : tooLow({ coil, liftOff })
}

const throughSurface = (liftOff: number): Refusal<FieldsCode> =>
  refuse('fields/coil-through-surface', {
    found: `a lift-off of ${liftOff} m`,
    needed: 'a coil that lies above the surface',
    remedy: 'give the distance from the lowest turns to the uppermost layer, wear face and tape included'
  })

const tooLow = ({ coil, liftOff }: PlacedCoil): Refusal<FieldsCode> =>
  refuse('fields/lift-off-too-small', {
    found: `a lift-off of ${liftOff} m under a coil of ${coil.outerRadius} m outer radius`,
    needed: 'a lift-off of at least 1/1000 of the outer radius',
    remedy: 'add what lies between wire and surface: insulation, casting, wear face, tape'
  })
