import { refuser } from '@trueloop/ground/refusal'

/** Every way in which this room says no. Each has a test that provokes it (`refusals.test.ts`). */
export const codes = [
  'scan/empty-file',
  'scan/unknown-format',
  'scan/only-text',
  'scan/unreadable-numbers',
  'scan/uncertain-numbers',
  'scan/unsupported-encoding',
  'scan/truncated-header',
  'scan/inconsistent-header',
  'scan/one-channel',
  'scan/uncertain-columns',
  'scan/no-such-column',
  'scan/column-twice',
  'scan/no-unit',
  'scan/no-rate',
  'scan/no-samples',
  'scan/too-many-bad-rows',
  'scan/all-zero',
  'scan/equal-channels'
] as const

export type ScanCode = (typeof codes)[number]

export const refuse = refuser(codes)
