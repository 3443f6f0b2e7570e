import { exp, sin, TAU } from '@trueloop/ground/numerics'
import { stepAt } from './weld-coating.ts'

/** What makes signals along a weld and is no flaw. Sizes in units of an endlessly deep slot, lengths in m. */
export type TrackNuisance =
  | {
      readonly kind: 'permeability change'
      readonly at_m: number
      readonly width_m: number
      readonly size: number
      readonly direction_rad: number
    }
  | {
      readonly kind: 'toe geometry'
      readonly from_m: number
      readonly to_m: number
      readonly pitch_m: number
      readonly size: number
      readonly direction_rad: number
    }
  | {
      readonly kind: 'lift'
      readonly at_m: number
      readonly width_m: number
      readonly lift_mm: number
      readonly size: number
      readonly direction_rad: number
    }
  | { readonly kind: 'end of plate'; readonly at_m: number; readonly size: number; readonly direction_rad: number }

const FOUR_LN2 = 2.772588722239781
const END_M = 1e-3

const bell = (at: number, place: number, width: number): number => {
  const t = (at - place) / width
  return exp(-FOUR_LN2 * t * t)
}

/** Size along its own direction at a place. A lift of a drop or of the hand is a bell; a border of the plate a step. */
export function nuisanceAt(one: TrackNuisance, at: number): number {
  if (one.kind === 'permeability change') return one.size * stepAt(at, one.at_m, one.width_m / 4.4)
  if (one.kind === 'lift') return one.size * bell(at, one.at_m, one.width_m)
  if (one.kind === 'end of plate') return one.size * stepAt(at, one.at_m, END_M)
  const inside = stepAt(at, one.from_m) - stepAt(at, one.to_m)
  return one.size * inside * sin((TAU * (at - one.from_m)) / one.pitch_m)
}

/** How far the probe is off the surface there, mm. */
export const liftAt = (one: TrackNuisance, at: number): number =>
  one.kind === 'lift' ? one.lift_mm * bell(at, one.at_m, one.width_m) : 0
