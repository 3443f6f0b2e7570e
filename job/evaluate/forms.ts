import { exp } from '@trueloop/ground/numerics'

/** Forms that the answer of a flaw may take in depth and length: part of the full answer, and its slope by the scale. */
export interface Form {
  readonly name: 'share of the footprint' | 'area'
  /** what the scale is measured by: at several times it the answer is level */
  measure(depth_mm: number, length_mm: number): number
  /** for one depth and scale, and then for each length */
  at(depth_mm: number, scale: number): (flaw: Filling) => Part
  /** what it asks of a length, of flaws in columns */
  fillings(flaws: Fillings): Float64Array
  /** the same for many depths, and then along them for each length */
  over(depths_mm: Float64Array, scale: number): Along
}

export interface Filling {
  readonly length_mm: number
  /** share of the footprint that the length fills */
  readonly share: number
}

/** `Filling` by length, columns `[length]`. */
export interface Fillings {
  readonly length_mm: Float64Array
  readonly share: Float64Array
}

export interface Part {
  readonly part: number
  readonly slope: number
}

/** `Part` by depth, columns `[depth]`. */
export interface Parts {
  readonly part: Float64Array
  readonly slope: Float64Array
}

/** Depths from, up to and without `to`, by `step`. */
export interface Span {
  readonly from: number
  readonly to: number
  readonly step: number
}

/** Writes the parts of a flaw, by what a form asks of its length, at the depths of a span. */
export type Along = (filling: number, into: Parts, span: Span) => void

/**
 * share · (1 − e^(−depth/scale)): eddy currents fall off with depth, so that the answer levels off; a short flaw answers in
 * proportion to its length, one longer than the footprint no more by its length. Scale in mm.
 */
const byShare: Form = {
  name: 'share of the footprint',
  measure: (depth_mm) => depth_mm,
  fillings: ({ share }) => share,
  at: (depth_mm, scale) => {
    const rest = exp(-depth_mm / scale)
    const slope = (-depth_mm * rest) / (scale * scale)
    return ({ share }) => ({ part: share * (1 - rest), slope: share * slope })
  },
  over: (depths_mm, scale) => {
    const parts = new Float64Array(depths_mm.length)
    const slopes = new Float64Array(depths_mm.length)
    for (let i = 0; i < depths_mm.length; i++) {
      const rest = exp(-depths_mm[i]! / scale)
      parts[i] = 1 - rest
      slopes[i] = (-depths_mm[i]! * rest) / (scale * scale)
    }
    return (share, { part, slope }, { from, to, step }) => {
      for (let i = from; i < to; i += step) {
        part[i] = share * parts[i]!
        slope[i] = share * slopes[i]!
      }
    }
  }
}

/** area/(area + scale), area = depth · length: amplitude follows area, and levels off. Scale in mm². source: bolt-hole-study-1 */
const byArea: Form = {
  name: 'area',
  measure: (depth_mm, length_mm) => depth_mm * length_mm,
  fillings: ({ length_mm }) => length_mm,
  at:
    (depth_mm, scale) =>
    ({ length_mm }) => {
      const area = depth_mm * length_mm
      const whole = area + scale
      return { part: area / whole, slope: -area / (whole * whole) }
    },
  over:
    (depths_mm, scale) =>
    (length_mm, { part, slope }, { from, to, step }) => {
      for (let i = from; i < to; i += step) {
        const area = depths_mm[i]! * length_mm
        const one = 1 / (area + scale)
        part[i] = area * one
        slope[i] = -area * one * one
      }
    }
}

export const forms: readonly Form[] = [byShare, byArea]
