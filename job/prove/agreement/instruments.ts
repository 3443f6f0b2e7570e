import { exp, log, type PairedDifferences, pairedDifferences } from '@trueloop/ground/numerics'
import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import { z } from 'zod'
import { canonical } from '../../record/index.ts'
import { type Same, workedAgain } from '../again.ts'
import { type Code, refuse } from '../codes.ts'
import type { ProveWith } from '../hit-miss/prove.ts'
import { read } from '../question.ts'

/** What is asked of two instruments that read the same things. Nothing in it has a default. */
export const instrumentStudySchema = z.strictObject({
  kind: z.literal('instruments'),
  version: z.literal(1),
  name: z.string().min(1).describe('what the study is called'),
  conditions: z.string().min(1).describe('technique, parts and set-ups for which the result holds'),
  scale: z.enum(['difference', 'ratio']).describe('ratio where the scatter grows with the reading'),
  width: z.number().gt(0).describe('standard deviations to a limit of agreement: 1.96, in older papers 2'),
  confidence: z.number().gt(0.5).lt(1).describe('two-sided, of the intervals'),
  allowed: z
    .number()
    .gt(0)
    .nullable()
    .describe('largest difference that does no harm, or ratio above 1; null: not stated')
})

export type InstrumentStudy = z.output<typeof instrumentStudySchema>

/** One thing read by both; nothing is trusted yet. */
export interface GivenPair {
  readonly row: string
  readonly first: unknown
  readonly second: unknown
  readonly unit: unknown
}

/** Plain data: with the rows that its hash names, all of it can be worked out again. */
export interface InstrumentResult {
  readonly kind: 'instruments-result'
  readonly method: number
  readonly program: string
  readonly study: InstrumentStudy
  readonly data: { readonly sha256: string; readonly pairs: number }
  /** in the unit of the readings; of natural logarithms where ratios are asked */
  readonly differences: PairedDifferences
  /** bias and limits as ratios, first by second, where they are asked */
  readonly ratios?: { readonly bias: number; readonly lower: number; readonly upper: number }
  /** whether the outer ends of the intervals of both limits lie within what is allowed */
  readonly isWithinAllowed?: boolean
  readonly advice: readonly { readonly about: string; readonly text: string }[]
}

/** Grows when any figure of a study would come out otherwise. */
export const instrumentMethod = 1

const DOUBT = 0.05
const FEW_PAIRS = 30

/**
 * Bias between two instruments and the limits within which nearly all their differences lie. A high correlation is no
 * agreement. Refuses: prove/bad-question, prove/mixed-units, prove/not-paired (a reading that is none),
 * prove/signal-not-positive (ratios), prove/too-few-pairs, prove/no-scatter. source: bland-altman-1986
 */
export function compareInstruments(
  asked: unknown,
  given: readonly GivenPair[],
  { hash, program }: ProveWith
): Result<InstrumentResult, Code> {
  const study = read(instrumentStudySchema, asked, 'prove/bad-question')
  if (isRefusal(study)) return study
  const fault = pairFault(given, study)
  if (fault !== undefined) return fault
  const column = (of: 'first' | 'second'): readonly number[] =>
    given.map((pair) => (study.scale === 'ratio' ? log(pair[of] as number) : (pair[of] as number)))
  const found = pairedDifferences({ first: column('first'), second: column('second') }, study)
  if (isRefusal(found)) return noDifferences(found)
  return {
    ...{ kind: 'instruments-result', method: instrumentMethod, program, study },
    data: { sha256: hashOfPairs(given, hash), pairs: given.length },
    differences: found,
    ...(study.scale === 'ratio' ? { ratios: ratiosOf(found) } : {}),
    ...(study.allowed === null ? {} : { isWithinAllowed: isWithin(found, study, study.allowed) }),
    advice: adviceOn(found, study)
  }
}

/** Hash of the pairs as given. */
export const hashOfPairs = (given: readonly GivenPair[], hash: ProveWith['hash']): string =>
  hash(canonical(given.map(plainPair)))

/** The same study again from the result alone and its rows. Refuses: prove/other-data, prove/other-method, and as `compareInstruments`. */
export const compareInstrumentsAgain = (
  before: InstrumentResult,
  given: readonly GivenPair[],
  { hash, program }: ProveWith
): Result<Same<InstrumentResult>, Code> =>
  workedAgain(before, { method: instrumentMethod, sha256: hashOfPairs(given, hash) }, () =>
    compareInstruments(before.study, given, { hash, program })
  )

const plainPair = ({ row, first, second, unit }: GivenPair) => ({ row, first, second, unit: String(unit ?? '') })

const ratiosOf = ({ bias, limits }: PairedDifferences): NonNullable<InstrumentResult['ratios']> => ({
  ...{ bias: exp(bias), lower: exp(limits.lower), upper: exp(limits.upper) }
})

function isWithin({ lowerLimit, upperLimit }: PairedDifferences, { scale }: InstrumentStudy, allowed: number): boolean {
  const most = scale === 'ratio' ? log(allowed) : allowed
  return lowerLimit.lower >= -most && upperLimit.upper <= most
}

function adviceOn({ count, slopeChance }: PairedDifferences, { scale }: InstrumentStudy): InstrumentResult['advice'] {
  const next = scale === 'ratio' ? 'a correction by a line' : 'ratios'
  return [
    ...(slopeChance < DOUBT
      ? [
          {
            about: 'slope',
            text: `The difference changes with the reading: limits of one width do not hold; try ${next}.`
          }
        ]
      : []),
    ...(count < FEW_PAIRS
      ? [{ about: 'few', text: `${count} pairs: look at the intervals of the limits, not at the limits alone.` }]
      : [])
  ]
}

function pairFault(given: readonly GivenPair[], { scale }: InstrumentStudy): Refusal<Code> | undefined {
  const units = [...new Set(given.map(({ unit }) => String(unit ?? '')))]
  if (units.length > 1) return mixedUnits(units)
  const isNumber = (value: unknown): value is number => typeof value === 'number' && Number.isFinite(value)
  const lone = given.find(({ first, second }) => !isNumber(first) || !isNumber(second))
  if (lone !== undefined) return notPaired(lone)
  const low = given.find(({ first, second }) => !((first as number) > 0 && (second as number) > 0))
  return scale === 'ratio' && low !== undefined ? notPositive(low) : undefined
}

const mixedUnits = (units: readonly string[]): Refusal<Code> =>
  refuse('prove/mixed-units', {
    found: `readings in ${units.map((unit) => (unit === '' ? 'no unit' : unit)).join(', ')}`,
    needed: 'one unit for both instruments',
    remedy: 'bring both to one unit: a difference of unlike units means nothing'
  })

const notPaired = ({ row, first, second }: GivenPair): Refusal<Code> =>
  refuse('prove/not-paired', {
    found: `readings of ${String(first)} and ${String(second)}`,
    needed: 'a number from each instrument',
    remedy: 'leave the pair out with its reason, or read it again with both',
    where: { path: row }
  })

const notPositive = ({ row, first, second }: GivenPair): Refusal<Code> =>
  refuse('prove/signal-not-positive', {
    found: `readings of ${String(first)} and ${String(second)}`,
    needed: 'readings above zero for ratios',
    remedy: 'use differences, or look at how these were recorded',
    where: { path: row }
  })

function noDifferences({ code, found, needed, remedy }: Refusal): Refusal<Code> {
  if (code === 'numerics/too-few-points')
    return refuse('prove/too-few-pairs', {
      found,
      needed: 'three pairs at the least, thirty or more to say much',
      remedy
    })
  return refuse('prove/no-scatter', { found, needed, remedy: 'take parts that differ, over the range of the work' })
}
