import { refuser } from '@trueloop/ground/refusal'

/** Every reason for which a crew gives no answer to a task. None of them says anything about the recording itself. */
export const codes = ['crew/worker-died', 'crew/closed', 'crew/unreadable-recording'] as const

export type Code = (typeof codes)[number]
export const refuse = refuser(codes)
