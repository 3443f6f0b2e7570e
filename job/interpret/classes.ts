import { PI } from '@trueloop/ground/numerics'

export type Class = 'false' | 'nonrelevant' | 'damage, not a crack' | 'relevant' | 'undecided'

/** One sentence with its figure, and which way it speaks. */
export interface Evidence {
  readonly what: string
  readonly sentence: string
  readonly speaks: 'for' | 'against' | 'neither'
}

/** What is known of an indication when it is classed. Phases as lines, 0 to π; lift-off lies at 0. */
export interface Features {
  readonly phase_rad: number
  readonly lobeOrder: 1 | -1
  /** revolutions at half the peak or more, and how many the smallest flaw sought would answer over */
  readonly rows: number
  readonly expectedRows: number
  /** largest move in angle between revolutions, turns */
  readonly wander: number
  readonly notchPhases: readonly number[]
  readonly mayClass: readonly string[]
}

/**
 * Angles beside lift-off within which a signal is told from a crack only by technique, and around the notches within
 * which it speaks for a crack. Common practice, no source: scores lie between lift-off and the crack angle, toward
 * lift-off. The plain rules of this method; each is said with its figure and nothing is removed by them.
 */
const LIFT_OFF_DEG = 25
const NOTCH_DEG = 40
const LONG_TIMES = 3
const DEG = PI / 180

interface Ruling {
  readonly class: Class
  readonly evidence: readonly Evidence[]
}

/** Classes an indication by the plain rules, with what spoke for and against a crack. */
export function classOf(features: Features): Ruling {
  const evidence = [angleEvidence(features), lobeEvidence(features), repeatEvidence(features)]
  return { class: ruled(features), evidence }
}

const fromLiftOff = (phase: number): number => Math.min(phase, PI - phase)

function fromNotches({ phase_rad, notchPhases }: Features): number {
  return notchPhases.reduce((least, notch) => {
    const off = Math.abs(phase_rad - notch)
    return Math.min(least, off, PI - off)
  }, PI)
}

function ruled(features: Features): Class {
  const off = fromLiftOff(features.phase_rad)
  const may = (cause: string) => features.mayClass.includes(cause)
  const alongLiftOff = off < LIFT_OFF_DEG * DEG
  const long = features.rows > LONG_TIMES * features.expectedRows
  if (alongLiftOff && long && may('scratch')) return 'damage, not a crack'
  if (alongLiftOff && !long && may('wobble')) return 'nonrelevant'
  if (features.lobeOrder === -1 && !alongLiftOff && may('loose particle')) return 'false'
  if (features.lobeOrder === 1 && !alongLiftOff && fromNotches(features) <= NOTCH_DEG * DEG) return 'relevant'
  return 'undecided'
}

const deg = (rad: number): string => `${Math.round(rad / DEG)}°`

function angleEvidence(features: Features): Evidence {
  const off = fromLiftOff(features.phase_rad)
  const near = fromNotches(features)
  const speaks = near <= NOTCH_DEG * DEG && off >= LIFT_OFF_DEG * DEG ? 'for' : 'against'
  return {
    what: 'angle',
    sentence: `Its angle is ${deg(features.phase_rad)}: ${deg(off)} from lift-off, ${deg(near)} from the nearest notch.`,
    speaks
  }
}

function lobeEvidence({ lobeOrder }: Features): Evidence {
  return lobeOrder === 1
    ? { what: 'lobe order', sentence: 'Its lobes come in the order of the notch.', speaks: 'for' }
    : { what: 'lobe order', sentence: 'Its lobes come in the reversed order of the notch.', speaks: 'against' }
}

function repeatEvidence({ rows, expectedRows, wander }: Features): Evidence {
  const moved = wander > 0 ? ` and moves by up to ${(360 * wander).toFixed(1)}° between them` : ''
  const sentence = `It answers on ${rows} revolutions at half its peak or more${moved}; the flaw sought would on about ${expectedRows}.`
  const long = rows > LONG_TIMES * expectedRows
  return { what: 'repeat', sentence, speaks: rows < 2 || long ? 'against' : 'for' }
}
