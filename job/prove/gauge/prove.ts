import { isRefusal, type Result } from '@trueloop/ground/refusal'
import { canonical } from '../../record/index.ts'
import { type Same, workedAgain } from '../again.ts'
import type { Code } from '../codes.ts'
import type { ProveWith } from '../hit-miss/prove.ts'
import { read } from '../question.ts'
import { byLikelihood, byMeanSquares, type Components } from './components.ts'
import { byRanges, type RangeFigures } from './ranges.ts'
import { type GivenReading, sortReadings } from './rows.ts'
import { type GaugeStudy, gaugeStudySchema } from './study.ts'

/** Grows when any figure of a study would come out otherwise. */
export const gaugeMethod = 1

/** Where scatter comes from; 'gauge' is all but the parts. */
export const gaugeSources = ['repeat', 'interaction', 'operator', 'gauge', 'part', 'total'] as const

export type GaugeSource = (typeof gaugeSources)[number]

export interface GaugeShare {
  readonly source: GaugeSource
  readonly deviation: number
  /** of the total variance, %; these add up */
  readonly contribution: number
  /** of the total standard deviation, %; these do not */
  readonly variation: number
  /** width standard deviations */
  readonly spread: number
  /** of the tolerance, % */
  readonly ofTolerance?: number
}

/** Plain data: with the rows that its hash names, all of it can be worked out again. */
export interface GaugeResult {
  readonly kind: 'gauge-result'
  readonly method: number
  readonly program: string
  readonly study: GaugeStudy
  readonly data: {
    readonly sha256: string
    readonly readings: number
    readonly parts: number
    readonly operators: number
  }
  readonly shares: readonly GaugeShare[]
  /** groups of parts that the gauge tells apart: floor(1.41 part/gauge), at least 1 */
  readonly categories: number
  /** with mean squares or likelihood */
  readonly components?: Components
  readonly ranges?: RangeFigures
  readonly advice: readonly { readonly about: string; readonly text: string }[]
}

/**
 * How much of the scatter of readings is the gauge's: repeats, operators, and both with the parts. A negative variance
 * counts as zero and is kept as it was in `components.raw`.
 * Refuses: prove/bad-question, what `sortReadings` refuses, prove/unbalanced, prove/too-few-repeats, prove/no-scatter,
 * prove/no-fit. source: aiag-msa-2010; searle-casella-mcculloch-1992, 4.3
 */
export function proveGauge(
  asked: unknown,
  given: readonly GivenReading[],
  { hash, program }: ProveWith
): Result<GaugeResult, Code> {
  const study = read(gaugeStudySchema, asked, 'prove/bad-question')
  if (isRefusal(study)) return study
  const readings = sortReadings(given, study)
  if (isRefusal(readings)) return readings
  const found =
    study.method === 'ranges'
      ? byRanges(readings)
      : study.method === 'mean squares'
        ? byMeanSquares(readings, study)
        : byLikelihood(readings, study)
  if (isRefusal(found)) return found
  const squares = 'raw' in found ? squaresOf(found) : squaresOfRanges(found)
  const shares = sharesOf(squares, study)
  const { parts, operators, rows } = readings
  return {
    ...{ kind: 'gauge-result', method: gaugeMethod, program, study },
    data: {
      ...{
        sha256: hashOfReadings(given, hash),
        readings: rows.length,
        parts: parts.length,
        operators: operators.length
      }
    },
    shares,
    categories: categoriesOf(squares),
    ...('raw' in found ? { components: found } : { ranges: found }),
    advice: adviceOn(found, operators.length, shares)
  }
}

/** Hash of the readings as given. */
export const hashOfReadings = (given: readonly GivenReading[], hash: ProveWith['hash']): string =>
  hash(canonical(given.map((row) => ({ ...row, reading: String(row.reading) }))))

/** The same study again from the result alone and its rows. Refuses: prove/other-data, prove/other-method, and as `proveGauge`. */
export const proveGaugeAgain = (
  before: GaugeResult,
  given: readonly GivenReading[],
  { hash, program }: ProveWith
): Result<Same<GaugeResult>, Code> =>
  workedAgain(before, { method: gaugeMethod, sha256: hashOfReadings(given, hash) }, () =>
    proveGauge(before.study, given, { hash, program })
  )

type Squares = Readonly<Record<GaugeSource, number>>

function squaresOf({ raw }: Components): Squares {
  const at = (value: number): number => Math.max(0, value)
  const gauge = at(raw.repeat) + at(raw.interaction) + at(raw.operator)
  const [repeat, interaction] = [at(raw.repeat), at(raw.interaction)]
  return { repeat, interaction, operator: at(raw.operator), gauge, part: at(raw.part), total: gauge + at(raw.part) }
}

function squaresOfRanges({ repeat, operator, gauge, part, total }: RangeFigures): Squares {
  const square = (value: number): number => value * value
  return {
    ...{ repeat: square(repeat), interaction: 0, operator: square(operator) },
    ...{ gauge: square(gauge), part: square(part), total: square(total) }
  }
}

const sharesOf = (squares: Squares, { width, tolerance }: GaugeStudy): readonly GaugeShare[] =>
  gaugeSources.map((source) => {
    const deviation = Math.sqrt(squares[source])
    const spread = width * deviation
    return {
      ...{ source, deviation, spread, contribution: (100 * squares[source]) / squares.total },
      variation: (100 * deviation) / Math.sqrt(squares.total),
      ...(tolerance === null ? {} : { ofTolerance: (100 * spread) / tolerance })
    }
  })

/** 1.41 as the manual rounds it. source: aiag-msa-2010 */
const categoriesOf = ({ part, gauge }: Squares): number => Math.max(1, Math.floor(1.41 * Math.sqrt(part / gauge)))

/** operators below which their scatter is hardly known. common practice, no source */
const FEW_OPERATORS = 5
/** shares of the study variation, %. source: aiag-msa-2010 */
const GOOD = 10
const POOR = 30

function adviceOn(
  found: Components | RangeFigures,
  operators: number,
  shares: readonly GaugeShare[]
): GaugeResult['advice'] {
  const gauge = shares.find(({ source }) => source === 'gauge')?.variation ?? 0
  const negative = 'raw' in found ? Object.entries(found.raw).filter(([, value]) => value < 0) : []
  return [
    { about: 'verdict', text: verdictOf(gauge) },
    ...negative.map(([name]) => ({
      about: 'negative',
      text: `The variance of "${name}" came out negative and counts as zero: it is too small for this study to show.`
    })),
    ...('raw' in found
      ? []
      : [
          {
            about: 'no-interval',
            text: 'Ranges give no interval and no interaction: mean squares tell more of the same readings.'
          }
        ]),
    ...(operators < FEW_OPERATORS
      ? [
          {
            about: 'few-operators',
            text: `${operators} operators tell little of how operators differ: look at the interval.`
          }
        ]
      : [])
  ]
}

function verdictOf(variation: number): string {
  const text = `The gauge takes ${Number(variation.toPrecision(3))} % of the study variation`
  if (variation < GOOD) return `${text}, below ${GOOD} %: good by common practice, for parts like these.`
  return variation > POOR
    ? `${text}, above ${POOR} %: not fit by common practice, for parts like these.`
    : `${text}, from ${GOOD} to ${POOR} %: fit under conditions by common practice, for parts like these.`
}
