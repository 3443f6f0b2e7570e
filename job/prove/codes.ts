import { refuser } from '@trueloop/ground/refusal'

/** Every reason for which a proof of capability, or a part of it, is not given. */
export const codes = [
  'prove/no-blanks',
  'prove/site-twice',
  'prove/inspector-twice',
  'prove/kind-not-planned',
  'prove/other-answers',
  'prove/no-such-site',
  'prove/no-such-inspector',
  'prove/result-twice',
  'prove/no-rows',
  'prove/one-row',
  'prove/bad-question',
  'prove/no-flaw-name',
  'prove/hits-as-text',
  'prove/no-result',
  'prove/no-size',
  'prove/negative-size',
  'prove/unknown-unit',
  'prove/mixed-units',
  'prove/flaw-of-two-sizes',
  'prove/repeats-as-rows',
  'prove/no-such-row',
  'prove/all-hits',
  'prove/all-misses',
  'prove/one-size',
  'prove/separated',
  'prove/falling',
  'prove/no-fit',
  'prove/not-demonstrated',
  'prove/inadequate-model',
  'prove/other-data',
  'prove/other-method',
  'prove/bad-plan',
  'prove/already-judged',
  'prove/flaws-used-before',
  'prove/nothing-changed',
  'prove/plan-after-trial',
  'prove/other-plan',
  'prove/other-flaws',
  'prove/trial-incomplete'
] as const
export type Code = (typeof codes)[number]

export const refuse = refuser(codes)
