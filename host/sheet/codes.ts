import { refuser } from '@trueloop/ground/refusal'

/** Every reason for which a file is refused before its content is read as a job sheet. */
export const codes = ['sheet/no-file', 'sheet/too-large', 'sheet/not-text', 'sheet/not-yaml', 'sheet/empty'] as const

export type Code = (typeof codes)[number]
export const refuse = refuser(codes)
