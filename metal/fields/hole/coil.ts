import type { Quantity } from '@trueloop/ground/quantity'
import type { Refusal } from '@trueloop/ground/refusal'
import { type FieldsCode, refuse } from '../codes.ts'
import { type Coil, coilComplaint } from '../layers/coil.ts'

/** A coil whose axis is a diameter of the hole: the coil of a rotating probe. */
export interface RadialCoil {
  readonly coil: Coil
  readonly holeDiameter: Quantity<'m'>
  /** On the axis of the coil, from its outermost turns to the wall. */
  readonly liftOff: Quantity<'m'>
}

/** A coil on the axis of the hole, its turns around it. */
export interface CoaxialCoil {
  readonly coil: Coil
  readonly holeDiameter: Quantity<'m'>
}

/** Orders needed grow like radius / gap: at 1/250 the nearest turn needs 4500 of them. */
const NARROWEST = 1 / 250
/** Wave numbers needed grow like outer radius / lift-off. */
const LOWEST = 1 / 50

/** Places of a radial coil, m: radius of the hole, near and far end of the winding from the axis of the hole. */
export interface RadialPlaces {
  readonly radius: number
  readonly near: number
  readonly far: number
}

export function placesOf({ coil, holeDiameter, liftOff }: RadialCoil): RadialPlaces {
  const radius = 0.5 * holeDiameter
  return { radius, near: radius - liftOff, far: radius - liftOff - coil.length }
}

/** Refuses: fields/bad-coil, fields/coil-too-thin, fields/bad-diameter, fields/coil-through-wall, fields/lift-off-too-small. */
export function radialComplaint(placed: RadialCoil): Refusal<FieldsCode> | undefined {
  const { coil, holeDiameter, liftOff } = placed
  const bad = coilComplaint(coil) ?? diameterComplaint(holeDiameter)
  if (bad !== undefined) return bad
  const { radius, near, far } = placesOf(placed)
  const outer = coil.outerRadius * coil.outerRadius
  const corner = Math.sqrt(Math.max(near * near, far * far) + outer)
  if (!(liftOff >= 0) || !(corner < radius)) return throughWall(corner, radius)
  const gap = radius - Math.max(near, -far)
  const isClear = radius - corner >= NARROWEST * radius && gap >= LOWEST * coil.outerRadius
  return isClear ? undefined : tooClose(corner, radius)
}

/** Refuses: as radialComplaint. */
export function coaxialComplaint({ coil, holeDiameter }: CoaxialCoil): Refusal<FieldsCode> | undefined {
  const bad = coilComplaint(coil) ?? diameterComplaint(holeDiameter)
  if (bad !== undefined) return bad
  const radius = 0.5 * holeDiameter
  if (coil.outerRadius >= radius) return throughWall(coil.outerRadius, radius)
  return radius - coil.outerRadius >= NARROWEST * radius ? undefined : tooClose(coil.outerRadius, radius)
}

export const diameterComplaint = (diameter: number): Refusal<FieldsCode> | undefined =>
  diameter > 0 && Number.isFinite(diameter)
    ? undefined
    : refuse('fields/bad-diameter', {
        found: `a hole of ${diameter} m diameter`,
        needed: 'a diameter above zero',
        remedy: 'give the diameter of the hole, in a unit'
      })

const throughWall = (corner: number, radius: number): Refusal<FieldsCode> =>
  refuse('fields/coil-through-wall', {
    found: `turns ${corner} m from the axis of a hole of ${radius} m radius`,
    needed: 'a coil that lies within the hole, with its corners too',
    remedy:
      'give a smaller coil, a larger lift-off on its axis or a larger hole; a flat coil face can not touch a round wall'
  })

const tooClose = (corner: number, radius: number): Refusal<FieldsCode> =>
  refuse('fields/lift-off-too-small', {
    found: `turns ${corner} m from the axis of a hole of ${radius} m radius`,
    needed:
      'turns at least 1/250 of the radius from the wall, and a lift-off of at least 1/50 of the outer radius of the coil',
    remedy: 'add what lies between wire and wall: insulation, casting, wear face, tape'
  })
