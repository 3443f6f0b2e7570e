import { refuser } from '@trueloop/ground/refusal'

/** Every reason for which a standardization is refused. */
export const codes = [
  'standardize/reference-too-long',
  'standardize/no-entry-step',
  'standardize/no-exit-step',
  'standardize/notch-missing',
  'standardize/notches-out-of-order',
  'standardize/notch-below-noise',
  'standardize/notch-along-lift-off',
  'standardize/clipped',
  'standardize/rotation-undetermined',
  'standardize/rotation-uncertain',
  'standardize/too-little-wall',
  'standardize/band-eats-pulse',
  'standardize/unknown-notch',
  'standardize/metal-differs',
  'standardize/shims-out-of-order',
  'standardize/shim-left-out',
  'standardize/absolute-differs',
  'standardize/part-differs',
  'standardize/coating-outside-shims'
] as const

export type Code = (typeof codes)[number]
export const refuse = refuser(codes)
