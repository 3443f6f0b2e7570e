import { refuser } from '@trueloop/ground/refusal'

/** Every reason for which a technique is not rehearsed. */
export const codes = [
  'rehearse/not-a-hole',
  'rehearse/no-pick-ups',
  'rehearse/several-metals',
  'rehearse/no-room',
  'rehearse/not-like-it',
  'rehearse/mixed-before',
  'rehearse/other-count',
  'rehearse/no-reference',
  'rehearse/other-feed',
  'rehearse/no-place'
] as const

export type Code = (typeof codes)[number]
export const refuse = refuser(codes)
