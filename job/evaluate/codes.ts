import { refuser } from '@trueloop/ground/refusal'

/** Every reason for which a size, or a part of what could be said of it, is withheld. */
export const codes = [
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

export type Code = (typeof codes)[number]
export const refuse = refuser(codes)
