import { refuser } from '@trueloop/ground/refusal'

/** Every reason for which an examination, or a part of it, is refused. */
export const codes = [
  'examine/setup-differs',
  'examine/setup-unknown',
  'examine/diameter-differs',
  'examine/metal-differs',
  'examine/speed-outside-window',
  'examine/no-contact',
  'examine/contact-differs',
  'examine/dead-signal',
  'examine/clipped',
  'examine/too-noisy',
  'examine/too-many-candidates',
  'examine/no-axial-position',
  'examine/no-strokes',
  'examine/strokes-untold',
  'examine/pitch-too-large',
  'examine/too-long-for-depth',
  'examine/notch-along-lift-off',
  'examine/oversize-without-limit',
  'examine/oversize-beyond-limit',
  'examine/oversize-hides-flaw',
  'examine/nothing-to-see',
  'examine/coating-unknown',
  'examine/coating-outside-shims',
  'examine/part-differs'
] as const

export type Code = (typeof codes)[number]
export const refuse = refuser(codes)
