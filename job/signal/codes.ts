import { refuser } from '@trueloop/ground/refusal'

/** Every reason for which the signal room refuses. */
export const codes = [
  'signal/too-short',
  'signal/gap-too-long',
  'signal/band-beyond-sampling',
  'signal/no-period',
  'signal/no-position',
  'signal/marks-differ'
] as const

export type Code = (typeof codes)[number]
export const refuse = refuser(codes)
