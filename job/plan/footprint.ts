import { log, PI } from '@trueloop/ground/numerics'

/** What the distance of the two lobes of a notch says of the footprint, and the footprint of the band. */

const LN2 = log(2)

/** Width at half height of the bell whose derivative has its two lobes `spacing` apart: 2·√(2 ln 2)·σ, lobes at ±σ. */
export const bellWidth = (spacing: number): number => Math.sqrt(2 * LN2) * spacing

/** Cycles per revolution at which the spectrum of a differential pulse of footprint `width_m` is largest: 0.375·πD/w. */
export const pulseCenter = (diameter_m: number, width_m: number): number => (0.375 * PI * diameter_m) / width_m

/** Corners in cycles per revolution. */
export interface Corners {
  readonly low: number
  readonly high: number
}

/**
 * Band from the footprint, in cycles per revolution: low corner 0.2·πD/w, high corner three times the pulse center
 * k = 0.375·πD/w of a differential pulse, the derivative of a bell of width w (rules of ours, no source; derived in
 * job/signal/reference/band.py). The low corner costs about a tenth of the pulse, the high corner nothing that can be seen.
 *
 * @param diameter_m hole diameter, m
 * @param spacing_m distance of the two lobes on the wall, m
 */
export function bandFromFootprint(diameter_m: number, spacing_m: number): Corners {
  const cycles = (PI * diameter_m) / bellWidth(spacing_m)
  return { low: 0.2 * cycles, high: 3 * 0.375 * cycles }
}
