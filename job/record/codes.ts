import { refuser } from '@trueloop/ground/refusal'

/** Every reason for which something is not written into a record. */
export const codes = [
  'record/unknown-kind',
  'record/bad-entry',
  'record/sequence-taken',
  'record/id-taken',
  'record/not-opened',
  'record/opened-twice',
  'record/wrong-job',
  'record/nothing-to-correct',
  'record/place-open'
] as const

export type Code = (typeof codes)[number]
export const refuse = refuser(codes)
