import { refuser } from '@trueloop/ground/refusal'

/** Every reason for which a decision finds nothing to be about. What may not be decided, the record refuses. */
export const codes = [
  'decide/no-such-job',
  'decide/no-such-place',
  'decide/no-such-indication',
  'decide/nothing-decided',
  'decide/no-handover',
  'decide/no-ream-size',
  'decide/procedure-not-in-force'
] as const

export type Code = (typeof codes)[number]
export const refuse = refuser(codes)
