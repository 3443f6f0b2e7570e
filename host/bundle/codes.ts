import { refuser } from '@trueloop/ground/refusal'

/** Every reason for which a job is not handed over, taken in, backed up or restored. */
export const codes = [
  'bundle/no-such-job',
  'bundle/record-not-whole',
  'bundle/unreadable-file',
  'bundle/unwritable-file',
  'bundle/not-a-zip',
  'bundle/broken-zip',
  'bundle/too-large',
  'bundle/unsafe-name',
  'bundle/doubled-name',
  'bundle/link',
  'bundle/encrypted',
  'bundle/compressed',
  'bundle/other-bytes',
  'bundle/unknown-version',
  'bundle/missing-file',
  'bundle/unlisted-file',
  'bundle/changed-file',
  'bundle/unknown-kind',
  'bundle/wrong-chain',
  'bundle/against-the-rule',
  'bundle/forked',
  'bundle/nothing-to-merge',
  'bundle/spoiled-copy',
  'bundle/backup-differs',
  'bundle/no-backup',
  'bundle/spoiled-backup',
  'bundle/folder-not-empty'
] as const

export type Code = (typeof codes)[number]
export const refuse = refuser(codes)
