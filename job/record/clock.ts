import type { Refusal } from '@trueloop/ground/refusal'
import { momentOf } from '../plan/index.ts'
import { type Code, refuse } from './codes.ts'
import type { Moment } from './kinds/parts.ts'

/** By how much a clock may go back unnoticed, s: services that keep it right step it by fractions of a second. */
const slack_s = 2

/**
 * Whether an entry is made before the last one by the same clock: then the clock was set back, or was ahead before, and
 * nobody can tell which days were right. Times by other witnesses, and times that can't be compared, are let through.
 * Refuses `record/clock-set-back`.
 */
export function clockComplaint(before: Moment | undefined, now: Moment): Refusal<Code> | undefined {
  if (before?.known !== 'clock of this computer' || now.known !== before.known) return undefined
  const [was, is] = [momentOf(before.time), momentOf(now.time)]
  if (was === undefined || is === undefined || was.hasOffset !== is.hasOffset) return undefined
  return is.seconds >= was.seconds - slack_s ? undefined : setBack(before.time, now.time)
}

const setBack = (before: string, now: string): Refusal<Code> =>
  refuse('record/clock-set-back', {
    found: `an entry at ${now}, after one at ${before} by the same clock`,
    needed: 'a clock that runs on: certificates and signatures hold on days',
    remedy: 'set the clock of this computer right; if it was ahead before, let a person say so: clock JOB --reason TEXT'
  })
