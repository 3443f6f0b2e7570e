import { refuser } from '@trueloop/ground/refusal'

/** Every reason for which a table of text is not read. */
export const codes = ['table/empty', 'table/doubled-column', 'table/not-a-table', 'table/no-column'] as const
export type Code = (typeof codes)[number]
export const refuse = refuser(codes)
