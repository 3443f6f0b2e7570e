import { refuser } from '@trueloop/ground/refusal'

/** Reasons that the record of the shop itself can not give: what is asked for before anything is written. */
export const codes = ['shop/first-person-missing', 'shop/no-such-plan', 'shop/plan-missing'] as const

export type Code = (typeof codes)[number]
export const refuse = refuser(codes)
