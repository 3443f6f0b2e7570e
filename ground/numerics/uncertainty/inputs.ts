import type { Result } from '../../refusal/index.ts'
import { type NumericsCode, refuse } from '../codes.ts'
import { cos, PI } from '../elementary.ts'

/** What is known of an input: a normal value, or limits between which it lies. */
export type Knowledge =
  /** `dof`: of its standard uncertainty; Infinity where that is taken as known */
  | { readonly law: 'normal'; readonly value: number; readonly uncertainty: number; readonly dof: number }
  | { readonly law: 'rectangular' | 'triangular' | 'arcsine'; readonly lower: number; readonly upper: number }

export type Input = { readonly name: string } & Knowledge

/** Two inputs by name and their correlation. */
export interface Correlation {
  readonly between: readonly [string, string]
  readonly r: number
}

export interface Measurement {
  readonly inputs: readonly Input[]
  readonly correlations: readonly Correlation[]
  /** the result from the values of the inputs, in their order */
  readonly model: (values: readonly number[]) => number
}

/** What draws numbers: `Random` is one. */
export interface Draws {
  uniform(): number
  normal(): number
}

export interface Known {
  readonly value: number
  readonly uncertainty: number
  readonly dof: number
}

const WIDTH = { rectangular: 3, triangular: 6, arcsine: 2 } as const

/** Best value, standard uncertainty (half-width over sqrt 3, 6 or 2), degrees of freedom. source: jcgm100-2008, 4.3 */
export function knownOf(input: Knowledge): Known {
  if (input.law === 'normal') return { value: input.value, uncertainty: input.uncertainty, dof: input.dof }
  const half = 0.5 * (input.upper - input.lower)
  const uncertainty = half / Math.sqrt(WIDTH[input.law])
  return { value: 0.5 * (input.lower + input.upper), uncertainty, dof: Number.POSITIVE_INFINITY }
}

/** One value of an input; a normal input with finite degrees of freedom is drawn as normal. source: jcgm101-2008, 6.4 */
export function drawn(input: Knowledge, draws: Draws): number {
  if (input.law === 'normal') return input.value + input.uncertainty * draws.normal()
  const width = input.upper - input.lower
  if (input.law === 'rectangular') return input.lower + width * draws.uniform()
  if (input.law === 'triangular') return input.lower + 0.5 * width * (draws.uniform() + draws.uniform())
  return input.lower + 0.5 * width * (1 + cos(PI * draws.uniform()))
}

/** Refuses: numerics/degenerate (an input that is no knowledge, or a correlation that is none). */
export function inputFlaw({ inputs, correlations }: Measurement): Result<never, NumericsCode> | undefined {
  const wrong = inputs.find((input) => !isSound(knownOf(input)))
  if (inputs.length === 0 || wrong !== undefined) return flaw(`the input '${wrong?.name ?? 'none'}'`)
  const names = inputs.map(({ name }) => name)
  const doubled = names.find((name, i) => names.indexOf(name) < i)
  if (doubled !== undefined) return flaw(`two inputs named '${doubled}'`)
  const loose = correlations.find(({ between: [a, b], r }) => {
    return a === b || !names.includes(a) || !names.includes(b) || !(Math.abs(r) <= 1)
  })
  return loose === undefined ? undefined : flaw(`a correlation ${loose.r} of '${loose.between.join("' and '")}'`)
}

const isSound = ({ value, uncertainty, dof }: Known): boolean =>
  Number.isFinite(value) && uncertainty >= 0 && Number.isFinite(uncertainty) && dof > 0

function flaw(found: string): Result<never, NumericsCode> {
  return refuse('numerics/degenerate', {
    found,
    needed:
      'inputs of different names, each with a value and an uncertainty, and correlations from -1 to 1 of two of them',
    remedy: 'state every input that matters, with how it is known'
  })
}

/** Correlation matrix of all inputs, [row * count + column]. */
export function correlationMatrix({ inputs, correlations }: Measurement): Float64Array {
  const n = inputs.length
  const values = new Float64Array(n * n)
  for (let i = 0; i < n; i++) values[i * n + i] = 1
  for (const { between, r } of correlations) {
    const [i, j] = between.map((name) => inputs.findIndex((input) => input.name === name)) as [number, number]
    values[i * n + j] = values[j * n + i] = r
  }
  return values
}
