import { refuser } from '@trueloop/ground/refusal'

/** Every reason for which the archive says no. */
export const codes = [
  'archive/locked',
  'archive/damaged',
  'archive/disk-full',
  'archive/unreachable',
  'archive/no-original',
  'archive/no-document',
  'archive/unreadable-source'
] as const

export type Code = (typeof codes)[number]
export const refuse = refuser(codes)
