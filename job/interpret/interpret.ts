import { atan2, PI } from '@trueloop/ground/numerics'
import type { Candidate } from './candidates.ts'
import { type Class, classOf, type Evidence, type Features } from './classes.ts'
import { mainOf, type SideLobeRule } from './sidelobes.ts'
import type { Threshold } from './threshold.ts'

/** A candidate that stood at the end, with what it is taken for and why. */
export interface Interpreted {
  readonly candidate: Candidate
  readonly crossedAlarm: boolean
  readonly features: Features
  readonly class: Class
  readonly evidence: readonly Evidence[]
}

export interface Interpretation {
  readonly kept: readonly Interpreted[]
  readonly withdrawn: readonly { readonly id: string; readonly reason: string }[]
}

export interface InterpretInput {
  readonly candidates: readonly Candidate[]
  readonly threshold: Threshold
  /** alarm as matched output, and as vertical peak-to-peak in notch units */
  readonly alarm: { readonly matched: number; readonly swing: number }
  readonly sideLobes: SideLobeRule
  /** complex fit of the notch's shape to a candidate's signal */
  readonly fit: (candidate: Candidate) => { readonly x: number; readonly y: number }
  /** angles of the notches, rad, standardized plane, as lines */
  readonly notchPhases: readonly number[]
  /** revolutions over which the smallest flaw sought is expected to answer */
  readonly expectedRows: number
  readonly mayClass: readonly string[]
}

/** Judges all candidates of one place together: side lobes and weak ones are withdrawn, the rest is classed with reasons. */
export function interpret(input: InterpretInput): Interpretation {
  const strongestFirst = [...input.candidates].sort((a, b) => b.matched - a.matched || a.peak - b.peak)
  const standing: Candidate[] = []
  const withdrawn: { id: string; reason: string }[] = []
  for (const one of strongestFirst) {
    const main = mainOf(one, standing, input.sideLobes)
    if (main !== undefined) withdrawn.push({ id: one.id, reason: `side lobe of ${main.id}` })
    else standing.push(one)
  }
  const kept: Interpreted[] = []
  for (const one of standing) {
    const crossedAlarm = one.matched >= input.alarm.matched || one.swing >= input.alarm.swing
    if (one.matched >= input.threshold.value || crossedAlarm) kept.push(interpreted(one, crossedAlarm, input))
    else withdrawn.push({ id: one.id, reason: 'below the threshold that the noise asks for' })
  }
  return { kept: kept.sort((a, b) => a.candidate.peak - b.candidate.peak), withdrawn }
}

function interpreted(candidate: Candidate, crossedAlarm: boolean, input: InterpretInput): Interpreted {
  const fitted = input.fit(candidate)
  const strong = candidate.rows.filter((row) => row.matched >= 0.5 * candidate.matched)
  const features: Features = {
    phase_rad: lineOf(atan2(fitted.y, fitted.x)),
    lobeOrder: candidate.sign,
    rows: strong.length,
    expectedRows: input.expectedRows,
    wander: wanderOf(strong, input.sideLobes.unit),
    notchPhases: input.notchPhases,
    mayClass: input.mayClass
  }
  return { candidate, crossedAlarm, features, ...classOf(features) }
}

/** An angle as that of a line: 0 to π. */
function lineOf(angle_rad: number): number {
  const turns = angle_rad / PI
  return PI * (turns - Math.floor(turns))
}

/** How far the strongest place moves in angle from one revolution to the next, in turns; 0 for one revolution. */
function wanderOf(rows: readonly { readonly at: number }[], unit: number): number {
  let most = 0
  for (let i = 1; i < rows.length; i++) {
    const step = (rows[i]!.at - rows[i - 1]!.at) / unit
    most = Math.max(most, Math.abs(step - Math.round(step)))
  }
  return most
}
