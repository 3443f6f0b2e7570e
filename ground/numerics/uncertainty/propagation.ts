import type { Result } from '../../refusal/index.ts'
import { type NumericsCode, refuse } from '../codes.ts'
import { studentQuantile } from '../sampling.ts'
import { correlationMatrix, inputFlaw, type Known, knownOf, type Measurement } from './inputs.ts'

/** One line of a budget. */
export interface BudgetLine extends Known {
  readonly name: string
  /** change of the result for a change of the input */
  readonly sensitivity: number
  /** sensitivity times standard uncertainty, with its sign */
  readonly contribution: number
  /** of the sum of squared contributions; without correlations of the combined variance itself */
  readonly share: number
}

export interface Propagation {
  readonly value: number
  /** combined standard uncertainty */
  readonly combined: number
  /** by Welch and Satterthwaite; undefined where inputs of finite degrees of freedom are correlated */
  readonly dof: number | undefined
  readonly budget: readonly BudgetLine[]
}

/**
 * First-order propagation: u^2 = sum (c_i u_i)^2 + 2 sum c_i c_j u_i u_j r_ij; sensitivities c_i by differences of the
 * model in steps of u/100, of the sixth order. It holds where the model is nearly straight over the uncertainties:
 * `monteCarlo` tells.
 * Refuses: numerics/degenerate (inputs that are none, a model without a finite value there). source: jcgm100-2008, 5.2, E.3, G.4
 */
export function propagate(measurement: Measurement): Result<Propagation, NumericsCode> {
  const flaw = inputFlaw(measurement)
  if (flaw !== undefined) return flaw
  const known = measurement.inputs.map(knownOf)
  const values = known.map(({ value }) => value)
  const value = measurement.model(values)
  const sensitivities = known.map((input, i) => sensitivity(measurement.model, values, { i, u: input.uncertainty }))
  if (![value, ...sensitivities].every(Number.isFinite)) return noValue(value)
  const contributions = known.map(({ uncertainty }, i) => sensitivities[i]! * uncertainty)
  const combined = Math.sqrt(quadratic(correlationMatrix(measurement), contributions))
  const squares = contributions.reduce((sum, c) => sum + c * c, 0)
  const budget = known.map((input, i) => ({
    name: measurement.inputs[i]!.name,
    ...input,
    sensitivity: sensitivities[i]!,
    contribution: contributions[i]!,
    share: squares === 0 ? 0 : (contributions[i]! * contributions[i]!) / squares
  }))
  return { value, combined, dof: effectiveDof(measurement, combined, budget), budget }
}

const STEP = 0.01

/** 0 for an input without uncertainty: it can not contribute. */
function sensitivity(
  model: Measurement['model'],
  values: readonly number[],
  { i, u }: { readonly i: number; readonly u: number }
): number {
  if (u === 0) return 0
  const h = STEP * u
  const at = (steps: number): number => model(values.with(i, values[i]! + steps * h))
  const slope = (steps: number): number => at(steps) - at(-steps)
  return (45 * slope(1) - 9 * slope(2) + slope(3)) / (60 * h)
}

/** c' R c; rounding below zero is zero */
function quadratic(matrix: Float64Array, c: readonly number[]): number {
  const n = c.length
  let sum = 0
  for (let i = 0; i < n; i++) for (let j = 0; j < n; j++) sum += c[i]! * matrix[i * n + j]! * c[j]!
  return Math.max(0, sum)
}

/** u^4/sum (u_i^4/dof_i). source: jcgm100-2008, G.4.1 */
function effectiveDof(
  { correlations }: Measurement,
  combined: number,
  budget: readonly BudgetLine[]
): number | undefined {
  const finite = budget.filter(({ dof }) => Number.isFinite(dof))
  const isTied = correlations.some(({ between, r }) => r !== 0 && finite.some(({ name }) => between.includes(name)))
  if (isTied) return undefined
  const square = combined * combined
  return (square * square) / finite.reduce((sum, { contribution: c, dof }) => sum + (c * c * c * c) / dof, 0)
}

/** value -+ k u with k of Student's t at the effective degrees of freedom. source: jcgm100-2008, G.3 */
export interface Coverage {
  readonly factor: number
  readonly expanded: number
  readonly lower: number
  readonly upper: number
}

/**
 * Two-sided, for instance 0.95. Refuses: numerics/dof-undetermined (correlated inputs of finite degrees of freedom: state
 * a factor by hand, or take the interval of `monteCarlo`). source: jcgm100-2008, 6.3, G.6.4
 */
export function coverage({ value, combined, dof }: Propagation, confidence: number): Result<Coverage, NumericsCode> {
  if (dof === undefined) return undetermined()
  const factor = studentQuantile(0.5 + 0.5 * confidence, Math.min(dof, LARGEST_DOF))
  return { factor, expanded: factor * combined, lower: value - factor * combined, upper: value + factor * combined }
}

/** Beyond it t and the normal law are one to all digits. */
const LARGEST_DOF = 1e9

function undetermined(): Result<never, NumericsCode> {
  return refuse('numerics/dof-undetermined', {
    found: 'correlated inputs with few degrees of freedom',
    needed: 'independent inputs, or uncertainties taken as known',
    remedy: 'use the interval by random draws, or state a coverage factor and say so'
  })
}

function noValue(value: number): Result<never, NumericsCode> {
  return refuse('numerics/degenerate', {
    found: `a result of ${value} or of none near it`,
    needed: 'a model with a finite value within the uncertainties of its inputs',
    remedy: 'check the inputs: one may be zero or reach below it'
  })
}
