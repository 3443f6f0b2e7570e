import { exp, sin, TAU } from '@trueloop/ground/numerics'

/**
 * Paint over a track, and the absolute channel that answers it. Thickness in mm; the signal of a flaw falls as
 * exp(−h/fall_mm), the channel reads `bare` + `rise`·(1 − exp(−h/settle_mm)).
 */
export interface TrackPaint {
  readonly mean_mm: number
  readonly swing: { readonly mm: number; readonly every_m: number }
  /** runs of paint: so much more, bell-shaped, half height over `width_m` */
  readonly runs: readonly { readonly at_m: number; readonly width_m: number; readonly mm: number }[]
  /** edges of coats: so much more, or less, from here on */
  readonly edges: readonly { readonly at_m: number; readonly mm: number }[]
  readonly fall_mm: number
  readonly absolute: Absolute
}

export interface Absolute {
  readonly bare: number
  readonly rise: number
  readonly settle_mm: number
  /** rms at every sample */
  readonly noise: number
  /** extra level by a change of permeability, where one is */
  readonly permeability: readonly { readonly from_m: number; readonly to_m: number; readonly level: number }[]
}

/** Bell of half-height width 1: exp(−4 ln 2 t²). */
const FOUR_LN2 = 2.772588722239781
/** Edges are seen through a field: a step over so much, m. */
const EDGE_M = 0.6e-3

export function paintAt(paint: TrackPaint, at: number): number {
  const { mean_mm, swing, runs, edges } = paint
  let mm = mean_mm + swing.mm * sin((TAU * at) / swing.every_m)
  for (const run of runs) {
    const t = (at - run.at_m) / run.width_m
    mm += run.mm * exp(-FOUR_LN2 * t * t)
  }
  for (const edge of edges) mm += edge.mm * stepAt(at, edge.at_m)
  return Math.max(0, mm)
}

/** From 0 to 1 around a place, smooth. */
export const stepAt = (at: number, place: number, width = EDGE_M): number => 1 / (1 + exp((place - at) / width))

/** What the absolute channel reads over so much paint and lift, without noise. */
export function absoluteAt({ bare, rise, settle_mm, permeability }: Absolute, at: number, mm: number): number {
  const extra = permeability.reduce(
    (sum, { from_m, to_m, level }) => sum + level * (stepAt(at, from_m) - stepAt(at, to_m)),
    0
  )
  return bare + rise * (1 - exp(-mm / settle_mm)) + extra
}

/** What is left of the signal of a flaw under so much paint and lift. */
export const throughPaint = ({ fall_mm }: TrackPaint, mm: number): number => exp(-mm / fall_mm)
