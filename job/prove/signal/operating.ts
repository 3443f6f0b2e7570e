import {
  type Binormal,
  binormal,
  log,
  type OperatingPoint,
  operatingPoints,
  type RocArea,
  rocArea,
  type TwoSamples,
  youdenThreshold
} from '@trueloop/ground/numerics'
import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import { z } from 'zod'
import { type Same, workedAgain } from '../again.ts'
import { type Code, refuse } from '../codes.ts'
import type { ProveWith } from '../hit-miss/prove.ts'
import { read } from '../question.ts'
import type { Exclusion } from '../rows.ts'
import { hashOfSignals } from './prove.ts'
import { type GivenSignalRow, type SignalRow, type SortedSignals, sortSignals } from './rows.ts'
import { signalStudySchema } from './study.ts'

const MOST_THRESHOLDS = 200

/** What is asked of signals of flaws and of blanks, whatever the sizes. Nothing in it has a default. */
export const operatingStudySchema = z.strictObject({
  kind: z.literal('operating-points'),
  version: z.literal(1),
  ...signalStudySchema.pick({
    name: true,
    conditions: true,
    flaws: true,
    floor: true,
    saturation: true,
    excluded: true
  }).shape,
  normal_in: z.enum(['signal', 'ln signal']).describe('in what the signals are normal, for the smooth curve'),
  thresholds: z
    .array(z.number())
    .min(1)
    .max(MOST_THRESHOLDS)
    .describe('signals of so much or more are called; each gives its hits and false calls'),
  confidence: z.number().gt(0.5).lt(1).describe('one-sided of each bound, two-sided of the area')
})

export type OperatingStudy = z.output<typeof operatingStudySchema>

/** Plain data: with the rows that its hash names, all of it can be worked out again. */
export interface OperatingResult {
  readonly kind: 'operating-points-result'
  readonly method: number
  readonly program: string
  readonly study: OperatingStudy
  readonly data: {
    readonly sha256: string
    readonly rows: number
    readonly flaws: number
    readonly blanks: number
    readonly exclusions: readonly Exclusion[]
  }
  readonly points: readonly OperatingPoint[]
  readonly area: RocArea
  /** lowest signal at which hits less false calls are most */
  readonly best: Pick<OperatingPoint, 'threshold' | 'gained'>
  readonly normal: Result<Binormal, Code>
  readonly advice: readonly { readonly about: string; readonly text: string }[]
}

/** Grows when any figure of a study would come out otherwise. */
export const operatingMethod = 1

/**
 * How well a signal tells flaws from blanks: hits and false calls of each threshold with exact bounds, and over all
 * thresholds. It holds for these flaws: the share of hits says nothing of a size.
 * Refuses: prove/bad-question, what `sortSignals` refuses, prove/no-blanks, prove/too-few-read; in `normal`:
 * prove/no-scatter. source: delong-1988; mil-hdbk-1823a-2009
 */
export function proveOperatingPoints(
  asked: unknown,
  rows: readonly GivenSignalRow[],
  { hash, program }: ProveWith
): Result<OperatingResult, Code> {
  const study = read(operatingStudySchema, asked, 'prove/bad-question')
  if (isRefusal(study)) return study
  const sorted = sortedFor(study, rows)
  if (isRefusal(sorted)) return sorted
  const { flaws, blanks, exclusions } = sorted
  if (blanks.length === 0) return noBlanks()
  const samples = samplesOf(sorted)
  const area = rocArea(samples, study.confidence)
  const points = operatingPoints(samples, study.thresholds, study.confidence)
  const best = youdenThreshold(samples)
  if (isRefusal(area) || isRefusal(points) || isRefusal(best)) return tooFew(flaws.length, blanks.length)
  return {
    ...{ kind: 'operating-points-result', method: operatingMethod, program, study },
    data: {
      ...{ sha256: hashOfSignals(rows, hash), rows: rows.length, flaws: flaws.length, blanks: blanks.length },
      exclusions
    },
    ...{ points, area, best, normal: normalOf(samples, study), advice: adviceOn(sorted, area) }
  }
}

/** Every threshold has to lie where signals are read: the lowest and the highest speak for all. */
function sortedFor(study: OperatingStudy, rows: readonly GivenSignalRow[]): Result<SortedSignals, Code> {
  const ends = [Math.max, Math.min].map((end) => study.thresholds.reduce((a, b) => end(a, b)))
  const [first, last] = ends.map((threshold) =>
    sortSignals(rows, { ...study, threshold, response: study.normal_in, inspectors: 'one' })
  )
  return isRefusal(first) ? first : last!
}

/** A row beyond a limit counts at the limit: such rows tie with each other. */
const samplesOf = ({ flaws, blanks }: SortedSignals): TwoSamples => ({
  flawed: flaws.map(signalOf),
  blank: blanks.map(signalOf)
})

const signalOf = ({ signal }: SignalRow): number => signal

function normalOf({ flawed, blank }: TwoSamples, { normal_in }: OperatingStudy): Result<Binormal, Code> {
  const scaled = (values: ArrayLike<number>) =>
    Array.from(values, (value) => (normal_in === 'signal' ? value : log(value)))
  const found = binormal({ flawed: scaled(flawed), blank: scaled(blank) })
  return isRefusal(found) ? refuse('prove/no-scatter', found) : found
}

function adviceOn({ flaws, blanks }: SortedSignals, { logitInterval }: RocArea): OperatingResult['advice'] {
  const beyond = [...flaws, ...blanks].filter(({ side }) => side !== 0).length
  const told = (is: boolean, about: string, text: string) => (is ? [{ about, text }] : [])
  return [
    ...told(true, 'these-flaws', 'Hits are those of these flaws: of other sizes, others. No size is shown by them.'),
    ...told(
      true,
      'chosen-after',
      'A threshold chosen by these signals proves nothing by them: it takes a trial of its own.'
    ),
    ...told(
      blanks.length < flaws.length,
      'few-blanks',
      `${blanks.length} blanks for ${flaws.length} flaws: practice asks for several times as many blanks.`
    ),
    ...told(
      logitInterval === undefined,
      'apart',
      'The signals of flaws and of blanks do not overlap: how far the area may fall short of one, they do not tell.'
    ),
    ...told(beyond > 0, 'limits', `${beyond} signals lie beyond a limit and count as alike there.`)
  ]
}

/** The same study again from the result alone and its rows. Refuses: prove/other-data, prove/other-method, and as `proveOperatingPoints`. */
export const proveOperatingPointsAgain = (
  before: OperatingResult,
  rows: readonly GivenSignalRow[],
  { hash, program }: ProveWith
): Result<Same<OperatingResult>, Code> =>
  workedAgain(before, { method: operatingMethod, sha256: hashOfSignals(rows, hash) }, () =>
    proveOperatingPoints(before.study, rows, { hash, program })
  )

const noBlanks = (): Refusal<Code> =>
  refuse('prove/no-blanks', {
    found: 'no site known to hold no flaw',
    needed: 'signals of flaws and of blanks',
    remedy: 'measure blanks in the same way as flaws'
  })

const tooFew = (flaws: number, blanks: number): Refusal<Code> =>
  refuse('prove/too-few-read', {
    found: `signals of ${flaws} flaws and ${blanks} blanks`,
    needed: 'two or more of each',
    remedy: 'measure more of both, or look at why rows were excluded'
  })
