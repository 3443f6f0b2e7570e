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
  'record/reserved-name',
  'record/clock-set-back',
  'record/place-open',
  'record/not-signed',
  'record/bad-signature',
  'record/no-right',
  'record/other-approver',
  'record/person-expired',
  'record/same-person',
  'record/other-person',
  'record/rests-on-it',
  'record/no-reason',
  'record/nothing-to-decide',
  'record/undecided',
  'record/no-ream-chosen',
  'record/size-not-permitted',
  'record/job-open',
  'record/job-closed',
  'record/false-merge',
  'record/other-answers',
  'record/practice-not-marked'
] as const

export type Code = (typeof codes)[number]
export const refuse = refuser(codes)
