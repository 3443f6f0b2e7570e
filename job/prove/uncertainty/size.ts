import {
  type BudgetLine,
  type Coverage,
  coverage,
  type Draws,
  type Input,
  isPropagationValid,
  type Measurement,
  type MonteCarlo,
  monteCarlo,
  pow,
  propagate
} from '@trueloop/ground/numerics'
import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import { z } from 'zod'
import { type Code, refuse } from '../codes.ts'
import { read } from '../question.ts'

const dof = z.number().gt(0).nullable().describe('degrees of freedom of the uncertainty; null: taken as known')

const knowledge = z.discriminatedUnion('law', [
  z.strictObject({ law: z.literal('normal'), value: z.number(), uncertainty: z.number().min(0), dof }),
  z.strictObject({ law: z.enum(['rectangular', 'triangular', 'arcsine']), lower: z.number(), upper: z.number() })
])

const named = z.strictObject({
  name: z.string().min(1).describe('what it is: lift-off, temperature, operator'),
  basis: z.string().min(1).describe('how it is known: a certificate, a gauge study, a limit of the paper'),
  known: knowledge
})

/** A size read off a power law of the amplitude, with all that makes it uncertain. Nothing in it has a default. */
export const sizeUncertaintySchema = z.strictObject({
  kind: z.literal('size-uncertainty'),
  version: z.literal(1),
  name: z.string().min(1),
  amplitude: named.describe('of the indication, in the unit of the curve'),
  factors: z.array(named).describe('by which the amplitude is multiplied: lift-off, probe position, temperature'),
  constant: named.describe('amplitude at a size of 1 mm, of the curve'),
  exponent: named.describe('of the curve'),
  correlation: z.number().min(-1).max(1).describe('of constant and exponent: a fit ties them, often near -0.9'),
  corrections_mm: z.array(named).describe('added to the size: depth of the reference notches, digits of the reading'),
  confidence: z.number().gt(0.5).lt(1).describe('two-sided'),
  digits: z.union([z.literal(1), z.literal(2)]).describe('of the uncertainty that shall hold'),
  mostDraws: z.number().int().min(20_000).max(100_000_000).describe('after which drawing ends, settled or not'),
  seed: z.string().min(1).describe('the same seed gives the same draws')
})

export type SizeUncertaintyAsked = z.output<typeof sizeUncertaintySchema>

/** A line of the budget; no degrees of freedom where the uncertainty is taken as known. */
export interface SizeBudgetLine extends Omit<BudgetLine, 'dof'> {
  readonly basis: string
  readonly dof: number | null
}

/** Plain data, and all that is needed to work it out again. */
export interface SizeUncertainty {
  readonly kind: 'size-uncertainty-result'
  readonly method: number
  readonly asked: SizeUncertaintyAsked
  readonly size_mm: number
  /** combined standard uncertainty, mm */
  readonly combined_mm: number
  readonly dof?: number
  readonly budget: readonly SizeBudgetLine[]
  readonly propagated: Result<Coverage, Code>
  readonly drawn: MonteCarlo
  /** both ends of the straight interval agree with the draws */
  readonly isStraight: boolean
  /** the straight interval where it holds, else that by draws */
  readonly stated: {
    readonly by: 'propagation' | 'draws'
    readonly lower_mm: number
    readonly upper_mm: number
    readonly isSettled: boolean
  }
}

/** Grows when any figure would come out otherwise. */
export const sizeUncertaintyMethod = 1

const BATCH = 10_000

/**
 * size = (amplitude x factors/constant)^(1/exponent) + corrections, mm, with its budget by propagation and its interval
 * by draws; the source of draws is made from the seed by the caller (`randomFrom`).
 * Refuses: prove/bad-question, prove/not-a-measurement (limits that are crossed, two inputs of one name, a size that
 * does not exist for values that the inputs may take, correlated constant and exponent that are not normal); in
 * `propagated`: prove/not-a-measurement (degrees of freedom of correlated inputs).
 * source: jcgm100-2008, 5, G.4; jcgm101-2008, 7, 8
 */
export function sizeUncertainty(asked: unknown, drawsFrom: (seed: string) => Draws): Result<SizeUncertainty, Code> {
  const question = read(sizeUncertaintySchema, asked, 'prove/bad-question')
  if (isRefusal(question)) return question
  const { measurement, bases } = measurementOf(question)
  const straight = propagate(measurement)
  if (isRefusal(straight)) return noMeasurement(straight)
  const { confidence, digits, mostDraws, seed } = question
  const mostBatches = Math.floor(mostDraws / BATCH)
  const drawn = monteCarlo(measurement, drawsFrom(seed), {
    ...{ confidence, digits, batch: BATCH, fewestBatches: 2, mostBatches }
  })
  if (isRefusal(drawn)) return noMeasurement(drawn)
  const found = coverage(straight, confidence)
  const propagated = isRefusal(found) ? noMeasurement(found) : found
  const isStraight = isPropagationValid(straight, drawn, confidence)
  return {
    ...{ kind: 'size-uncertainty-result', method: sizeUncertaintyMethod, asked: question },
    ...{ size_mm: straight.value, combined_mm: straight.combined },
    ...(straight.dof === undefined || straight.dof === Number.POSITIVE_INFINITY ? {} : { dof: straight.dof }),
    budget: straight.budget.map((line, i) => ({ ...line, dof: finite(line.dof), basis: bases[i]! })),
    ...{ propagated, drawn, isStraight, stated: statedOf(propagated, drawn, isStraight) }
  }
}

const finite = (value: number): number | null => (Number.isFinite(value) ? value : null)

type Named = z.output<typeof named>

const inputOf = ({ name, known }: Named): Input =>
  known.law === 'normal' ? { name, ...known, dof: known.dof ?? Number.POSITIVE_INFINITY } : { name, ...known }

function measurementOf(asked: SizeUncertaintyAsked): {
  readonly measurement: Measurement
  readonly bases: readonly string[]
} {
  const { amplitude, constant, exponent, factors, corrections_mm, correlation } = asked
  const all = [amplitude, constant, exponent, ...factors, ...corrections_mm]
  const firstCorrection = 3 + factors.length
  const correlations = correlation === 0 ? [] : [{ between: [constant.name, exponent.name], r: correlation } as const]
  const model: Measurement['model'] = (values) => {
    const signal = values.slice(3, firstCorrection).reduce((product, factor) => product * factor, values[0]!)
    const size = signal > 0 && values[1]! > 0 ? pow(signal / values[1]!, 1 / values[2]!) : Number.NaN
    return values.slice(firstCorrection).reduce((sum, correction) => sum + correction, size)
  }
  return { measurement: { inputs: all.map(inputOf), correlations, model }, bases: all.map(({ basis }) => basis) }
}

function statedOf(
  propagated: Result<Coverage, Code>,
  { symmetric, isSettled }: MonteCarlo,
  isStraight: boolean
): SizeUncertainty['stated'] {
  if (isStraight && !isRefusal(propagated))
    return { by: 'propagation', lower_mm: propagated.lower, upper_mm: propagated.upper, isSettled }
  return { by: 'draws', lower_mm: symmetric.lower, upper_mm: symmetric.upper, isSettled }
}

const noMeasurement = ({ found, needed, remedy }: Refusal): Refusal<Code> =>
  refuse('prove/not-a-measurement', { found, needed, remedy })
