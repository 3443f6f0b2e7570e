import { refuser } from '@trueloop/ground/refusal'

/** Every reason for which a proof of capability, or a part of it, is not given. */
export const codes = [
  'prove/no-blanks',
  'prove/site-twice',
  'prove/inspector-twice',
  'prove/kind-not-planned',
  'prove/other-answers',
  'prove/no-such-site',
  'prove/no-such-inspector',
  'prove/result-twice'
] as const
export type Code = (typeof codes)[number]

export const refuse = refuser(codes)
