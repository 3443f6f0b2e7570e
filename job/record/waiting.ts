import type { JoinedIndication } from './joined.ts'
import type { IndicationOutcome } from './kinds/examining.ts'

/** What a person has said of an indication counts before what was proposed. */

/** A person's class; without one the proposed one. */
export const classOf = ({ decided, class: proposed }: JoinedIndication): IndicationOutcome['class'] =>
  decided?.class ?? proposed

/** Whether it waits: for a class by a person, or, where it is relevant or damage, for a disposition of its place. */
export function waits(one: JoinedIndication): boolean {
  if (one.decided === undefined) return one.open
  return one.decided.class === 'relevant' || one.decided.class === 'damage, not a crack'
}

/** Whether nobody has classed it yet, and somebody has to. */
export const isUndecided = (one: JoinedIndication): boolean =>
  one.decided === undefined && one.open && one.class !== 'relevant'

const weight: Readonly<Record<IndicationOutcome['class'], number>> = {
  nonrelevant: 0,
  false: 0,
  'damage, not a crack': 1,
  undecided: 1,
  relevant: 2
}

/** Whether a class is milder than what was proposed; above the alarm level anything but relevant is. */
export const isDowngrade = (to: IndicationOutcome['class'], from: JoinedIndication): boolean =>
  weight[to] < weight[from.class] || (from.crossedAlarm && weight[to] === 0)
