/**
 * How strong the matched output must be to be an indication: five times the noise, the larger of reference and hole
 * (modelled as normal: about one crossing in 1.7 million independent places; modelled, not shown), never above the
 * technique's alarm. A hole whose noise would ask for more is too noisy to be examined.
 */
export const NOISE_FACTOR = 5

export interface Threshold {
  readonly value: number
  readonly noise: number
  readonly tooNoisy: boolean
}

export function thresholdOf(reference: number, hole: number, alarm: number): Threshold {
  const noise = Math.max(reference, hole)
  const wanted = NOISE_FACTOR * noise
  return { value: Math.min(wanted, alarm), noise, tooNoisy: NOISE_FACTOR * hole > alarm }
}
