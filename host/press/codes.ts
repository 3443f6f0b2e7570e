import { refuser } from '@trueloop/ground/refusal'

/** Every reason for which a report is not pressed. */
export const codes = ['press/no-typesetter'] as const

export type Code = (typeof codes)[number]
export const refuse = refuser(codes)
