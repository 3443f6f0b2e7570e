import { refuser } from '@trueloop/ground/refusal'

/** Every reason for which a person's key is not made, opened or changed. */
export const codes = [
  'keys/wrong-passphrase',
  'keys/short-passphrase',
  'keys/damaged',
  'keys/no-key',
  'keys/exists',
  'keys/unreachable'
] as const

export type Code = (typeof codes)[number]
export const refuse = refuser(codes)
