import { refuser } from '@trueloop/ground/refusal'

/** Every reason for which a job's recordings are not led through the chain. */
export const codes = [
  'chain/not-approved',
  'chain/another-method',
  'chain/no-recording',
  'chain/no-photo',
  'chain/no-drawing',
  'chain/not-a-drawing',
  'chain/same-content',
  'chain/order-differs',
  'chain/job-differs',
  'chain/unknown-subject',
  'chain/no-standardization',
  'chain/no-allowance',
  'chain/not-restandardized',
  'chain/recheck-overdue',
  'chain/in-the-future'
] as const

export type Code = (typeof codes)[number]
export const refuse = refuser(codes)
