import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import { z } from 'zod'
import { canonical } from '../../record/index.ts'
import { type Same, workedAgain } from '../again.ts'
import { type Code, refuse } from '../codes.ts'
import type { ProveWith } from '../hit-miss/prove.ts'
import { read } from '../question.ts'
import { noiseThresholdSchema, type TriedLaw, thresholdFromNoise } from './noise.ts'

/** What is asked of readings where there is no flaw. Nothing in it has a default. */
export const noiseStudySchema = z.strictObject({
  kind: z.literal('noise'),
  version: z.literal(1),
  name: z.string().min(1).describe('what the study is called'),
  conditions: z.string().min(1).describe('technique, places and set-up for which the noise holds'),
  ...noiseThresholdSchema.shape
})

export type NoiseStudy = z.output<typeof noiseStudySchema>

/** One reading without a flaw; nothing is trusted yet. */
export interface GivenNoise {
  readonly row: string
  readonly reading: unknown
  readonly unit: unknown
}

/** Plain data: with the rows that its hash names, all of it can be worked out again. */
export interface NoiseResult {
  readonly kind: 'noise-result'
  readonly method: number
  readonly program: string
  readonly study: NoiseStudy
  readonly data: { readonly sha256: string; readonly readings: number; readonly unit: string }
  readonly threshold: number
  readonly tried: readonly TriedLaw[]
}

/** Grows when any figure of a study would come out otherwise. */
export const noiseMethod = 1

/**
 * Threshold from readings without a flaw. Refuses: prove/mixed-units, prove/no-signal (a reading that is none), and as
 * `thresholdFromNoise`.
 */
export function proveNoise(
  asked: unknown,
  given: readonly GivenNoise[],
  { hash, program }: ProveWith
): Result<NoiseResult, Code> {
  const study = read(noiseStudySchema, asked, 'prove/bad-question')
  if (isRefusal(study)) return study
  const units = [...new Set(given.map(({ unit }) => String(unit ?? '')))]
  if (units.length > 1) return mixedUnits(units)
  const lone = given.find(({ reading }) => typeof reading !== 'number' || !Number.isFinite(reading))
  if (lone !== undefined) return noReading(lone)
  const { law, chance, opportunity, confidence } = study
  const readings = given.map(({ reading }) => reading as number)
  const found = thresholdFromNoise({ law, chance, opportunity, confidence }, readings)
  if (isRefusal(found)) return found
  return {
    ...{ kind: 'noise-result', method: noiseMethod, program, study },
    data: { sha256: hashOfNoise(given, hash), readings: readings.length, unit: units[0] ?? '' },
    ...{ threshold: found.threshold, tried: found.tried }
  }
}

const hashOfNoise = (given: readonly GivenNoise[], hash: ProveWith['hash']): string =>
  hash(canonical(given.map(({ row, reading, unit }) => ({ row, reading: String(reading), unit: String(unit ?? '') }))))

/** The same study again from the result alone and its rows. Refuses: prove/other-data, prove/other-method, and as `proveNoise`. */
export const proveNoiseAgain = (
  before: NoiseResult,
  given: readonly GivenNoise[],
  { hash, program }: ProveWith
): Result<Same<NoiseResult>, Code> =>
  workedAgain(before, { method: noiseMethod, sha256: hashOfNoise(given, hash) }, () =>
    proveNoise(before.study, given, { hash, program })
  )

const mixedUnits = (units: readonly string[]): Refusal<Code> =>
  refuse('prove/mixed-units', {
    found: `readings in ${units.map((unit) => (unit === '' ? 'no unit' : unit)).join(', ')}`,
    needed: 'one unit for all readings',
    remedy: 'bring them to one gain and unit'
  })

const noReading = ({ row, reading }: GivenNoise): Refusal<Code> =>
  refuse('prove/no-signal', {
    found: typeof reading === 'string' ? `the text "${reading}" as a reading` : `a reading of ${String(reading)}`,
    needed: 'a number in every row',
    remedy: 'read it again, or leave the row out of the table and say so in the conditions',
    where: { path: row }
  })
