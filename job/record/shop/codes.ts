import { refuser } from '@trueloop/ground/refusal'

/** Every reason for which something is not written into the record of the shop, beside those of any record. */
export const codes = [
  'shop/not-opened',
  'shop/opened-twice',
  'shop/unknown-signer',
  'shop/bad-document',
  'shop/key-differs',
  'shop/not-registered',
  'shop/same-person',
  'shop/last-level-three',
  'shop/not-validated',
  'shop/planned-twice',
  'shop/not-planned',
  'shop/judged-twice'
] as const

export type Code = (typeof codes)[number]
export const refuse = refuser(codes)
