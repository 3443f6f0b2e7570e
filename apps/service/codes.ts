import { refuser } from '@trueloop/ground/refusal'

/** Every reason for which the service says no. */
export const codes = [
  'service/no-such-route',
  'service/no-such-job',
  'service/no-such-place',
  'service/no-such-examination',
  'service/no-such-document',
  'service/no-such-recording',
  'service/no-such-drawing',
  'service/not-a-name',
  'service/other-host',
  'service/other-site',
  'service/not-signed-in',
  'service/register-changed',
  'service/no-such-entry',
  'service/changed-meanwhile',
  'service/id-used',
  'service/class-first',
  'service/no-watch',
  'service/no-such-file',
  'service/file-gone',
  'service/folder-unreachable',
  'service/empty-file',
  'service/zone-not-covered',
  'service/recheck-failed',
  'service/not-a-statement',
  'service/not-json',
  'service/too-large',
  'service/fault'
] as const

export type Code = (typeof codes)[number]
export const refuse = refuser(codes)
