import { refuser } from '@trueloop/ground/refusal'

/** Every reason for which a plan or a job sheet is refused. */
export const codes = [
  'plan/unknown-key',
  'plan/bad-value',
  'plan/missing-value',
  'plan/dates-out-of-order',
  'plan/unknown-hole',
  'plan/unknown-track',
  'plan/unknown-place',
  'plan/unknown-person',
  'plan/unknown-notch',
  'plan/double-name',
  'plan/file-twice',
  'plan/interface-outside-grip',
  'plan/notch-outside-standard',
  'plan/notch-name-differs',
  'plan/heat-treatment-differs',
  'plan/not-confirmed',
  'plan/other-approver',
  'plan/stack-up-differs',
  'plan/no-reference-first',
  'plan/nothing-to-confirm',
  'plan/set-up-differs',
  'plan/document-not-read',
  'plan/not-registered',
  'plan/out-of-date',
  'plan/register-differs',
  'plan/no-winding',
  'plan/coil-through-wall',
  'plan/metal-unknown',
  'plan/zone-without-metal',
  'plan/no-settings',
  'plan/filter-takes-flaw',
  'plan/coating-conducts',
  'plan/coating-too-thick',
  'plan/lanes-too-far-apart',
  'plan/probe-not-fit'
] as const

export type Code = (typeof codes)[number]
export const refuse = refuser(codes)
