import { refuser } from '@trueloop/ground/refusal'

/** Every reason for which a person can not sign, beside those of their key. */
export const codes = ['signing/not-registered', 'signing/person-expired'] as const

export type Code = (typeof codes)[number]
export const refuse = refuser(codes)
