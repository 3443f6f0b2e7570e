import { toNanometer } from './diameters.ts'
import type { Ground } from './ground.ts'

/** A distance over the diameter after a cut, against the least that is asked for. */
export interface Margin {
  readonly name: 'edge margin' | 'hole spacing'
  /** from the center of the hole, as entered */
  readonly distance_mm: number
  /** how far the axis may have moved: by the eccentricity, in every cut */
  readonly cuts: number
  readonly eccentricity_mm: number
  readonly diameter_mm: number
  readonly ratio: number
  readonly least: number
  readonly holds: boolean
}

/** Edge margin (e/D) and, where limited, hole spacing at a diameter after so many cuts: the smallest that can be left. */
export function marginsAt(
  diameter_mm: number,
  { rules, edge_mm, spacing_mm }: Ground,
  cuts: number
): readonly Margin[] {
  const { eccentricity_mm, min_edge_margin, min_hole_spacing } = rules
  const margin = (name: Margin['name'], distance_mm: number, least: number): Margin => {
    const left_mm = toNanometer(distance_mm - cuts * eccentricity_mm)
    const holds = left_mm >= toNanometer(least * diameter_mm)
    return { name, distance_mm, cuts, eccentricity_mm, diameter_mm, ratio: left_mm / diameter_mm, least, holds }
  }
  const spacing =
    spacing_mm === undefined || min_hole_spacing === undefined
      ? []
      : [margin('hole spacing', spacing_mm, min_hole_spacing)]
  return [margin('edge margin', edge_mm, min_edge_margin), ...spacing]
}

/** With its arithmetic: `edge margin (14 − 1 × 0.05) / 7.16 = 1.948, below 2`. */
export const marginText = ({ name, distance_mm, cuts, eccentricity_mm, diameter_mm, ratio, least, holds }: Margin) =>
  `${name} (${distance_mm} − ${cuts} × ${eccentricity_mm}) / ${diameter_mm} = ${cutOff(ratio)}, ${holds ? 'at least' : 'below'} ${least}`

/** Not rounded: a ratio below its limit never reads as equal to it. */
const cutOff = (ratio: number): string => (Math.floor(1000 * ratio + 1e-9) / 1000).toFixed(3)
