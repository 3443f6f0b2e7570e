import { refuser } from '@trueloop/ground/refusal'

/** Every reason for which a size, or a part of what could be said of it, is withheld. */
export const sizeCodes = [
  'evaluate/no-notch-of-kind',
  'evaluate/notch-below-noise',
  'evaluate/too-few-notches',
  'evaluate/curve-not-monotone',
  'evaluate/curve-not-straight',
  'evaluate/law-does-not-fit',
  'evaluate/size-undetermined',
  'evaluate/plateau',
  'evaluate/beyond-notches',
  'evaluate/turn-disagrees',
  'evaluate/below-footprint',
  'evaluate/runs-into-face',
  'evaluate/ratio-out-of-range',
  'evaluate/ratio-without-value',
  'evaluate/study-out-of-range'
] as const

/** Every further reason that a size along a weld may have. */
export const trackCodes = ['evaluate/coating-unsure', 'evaluate/coating-outside-slots'] as const

/** Every reason for which no figure of a clean-up ream is given, or a step of its loop is not taken. */
export const reamCodes = [
  'evaluate/ream-no-rules',
  'evaluate/ream-no-bound',
  'evaluate/ream-not-measured',
  'evaluate/ream-diameter-not-larger',
  'evaluate/ream-no-edge-distance',
  'evaluate/ream-no-hole-distance',
  'evaluate/ream-out-of-order',
  'evaluate/ream-size-not-permitted',
  'evaluate/ream-too-many-cuts',
  'evaluate/ream-standard-diameter',
  'evaluate/ream-not-closable'
] as const

export const codes = [...sizeCodes, ...trackCodes, ...reamCodes] as const

export type Code = (typeof codes)[number]
export const refuse = refuser(codes)
