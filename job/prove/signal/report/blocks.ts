import { isRefusal } from '@trueloop/ground/refusal'
import { type Block, cells, heading, tableOr } from '../../../record/index.ts'
import { curveFigure } from '../../report/curve-figure.ts'
import {
  exclusionTable,
  falseCallBlock,
  figure,
  limits,
  mm,
  notReal,
  originFacts,
  percent,
  statement
} from '../../report/words.ts'
import type { SignalBound } from '../bounds.ts'
import type { SignalCurve } from '../curve.ts'
import type { TriedResponse } from '../fits.ts'
import type { SignalResult } from '../prove.ts'
import type { RepeatedCurve, RepeatedGroup } from '../repeats.ts'
import type { SignalRow } from '../rows.ts'
import { checkRows } from './checks.ts'
import { responseFigure } from './response-figure.ts'

/** A study of signal against size as neutral blocks. `rows`: the flaws that were used, for the picture of the signals. */
export const signalBlocks = (result: SignalResult, rows: readonly SignalRow[]): readonly Block[] => [
  heading(1, 'Capability by signal and size'),
  statement(result.study, result.stated_m),
  ...notReal(result.study),
  heading(2, 'Study'),
  { block: 'facts', facts: studyFacts(result) },
  heading(2, 'False calls'),
  falseCallBlock(result.falseCalls, result.study.confidence),
  ...(result.curve === undefined ? [] : curveBlocks(result.curve, result, rows)),
  ...(result.repeated === undefined ? [] : repeatedBlocks(result.repeated, result)),
  heading(2, 'Rows left out'),
  exclusionTable(result.data.exclusions),
  heading(2, 'Limitations and cautions'),
  limits([
    ...result.advice.map(({ text }) => text),
    'It holds for the flaws, people and conditions of this trial and for this threshold. A flaw smaller than the stated one can be found, a larger one missed.'
  ])
]

function studyFacts({ study, data, method, program }: SignalResult) {
  const limit = (value: number | null): string => (value === null ? 'none' : `${value}`)
  return [
    { label: 'Study', value: study.name },
    { label: 'Conditions', value: study.conditions },
    { label: 'Size', value: study.measure },
    { label: 'Response', value: `${study.response} over ${study.scale}` },
    { label: 'Threshold', value: `${study.threshold}`, known: study.threshold_from },
    { label: 'Limits of reading', value: `floor ${limit(study.floor)}, saturation ${limit(study.saturation)}` },
    { label: 'Inspectors', value: study.inspectors },
    {
      label: 'Rows',
      value: `${data.rows}: ${data.flaws} of flaws (${data.below} below the floor, ${data.above} above the saturation), ${data.blanks} of blanks, ${data.exclusions.length} left out`
    },
    ...originFacts({ sha256: data.sha256, method, program })
  ]
}

const noCurve = ({ found, needed }: { readonly found: string; readonly needed: string }): Block => ({
  ...{ block: 'caution', tone: 'warning', title: 'No response' },
  text: `Found ${found}; needed ${needed}.`
})

function curveBlocks(
  curve: NonNullable<SignalResult['curve']>,
  { study, fits }: SignalResult,
  rows: readonly SignalRow[]
): readonly Block[] {
  const tried = triedTable(fits)
  if (isRefusal(curve)) return [heading(2, 'Response'), noCurve(curve), tried]
  return [
    heading(2, 'Response'),
    { block: 'facts', facts: responseFacts(curve, study.share) },
    ...(rows.length === 0 ? [] : [responseFigure(rows, curve, study)]),
    boundTable(curve.bounds),
    curveFigure(curve, 'call'),
    tried,
    tableOr(
      {
        caption: curve.checks?.of === 'all rows' ? 'Checks of the response' : 'Checks of the response, rows read only',
        columns: [{ label: 'Check' }, { label: 'Value', figures: true }, { label: 'Chance', figures: true }],
        rows: curve.checks === undefined ? [] : checkRows(curve.checks)
      },
      'No check of the response holds for so few rows.'
    )
  ]
}

const responseFacts = (curve: SignalCurve, share: number) => [
  { label: 'Intercept', value: figure(curve.intercept, 6), known: 'for sizes in m' },
  { label: 'Slope', value: figure(curve.slope, 6) },
  { label: 'Scatter', value: figure(curve.tau, 6), known: 'by maximum likelihood' },
  { label: 'Half are called at', value: mm(curve.a50_m, 3) },
  { label: `${percent(share)} are called at`, value: mm(curve.asked_m, 3) },
  ...(curve.askedByDof_m === undefined
    ? []
    : [{ label: `${percent(share)} are called at`, value: mm(curve.askedByDof_m, 3), known: 'scatter by n - 2' }])
]

const boundTable = (bounds: readonly SignalBound[], who = ''): Block => ({
  ...{ block: 'table', caption: `Bounds of that size${who === '' ? '' : `, ${who}`}` },
  columns: [{ label: 'Method' }, { label: 'Criterion' }, { label: 'Bound', figures: true }],
  rows: bounds.map(({ method, law, dof, criterion, size_m }) =>
    cells(
      method,
      `${law}${dof === undefined ? '' : ` of ${dof}`}${criterion === undefined ? '' : `: ${criterion.toFixed(4)}`}`,
      isRefusal(size_m) ? `none: ${size_m.found}` : mm(size_m, 3)
    )
  )
})

const triedTable = (fits: readonly TriedResponse[]): Block =>
  tableOr(
    {
      caption: 'Every response that was tried',
      columns: [
        { label: 'Response' },
        { label: 'Outcome' },
        { label: 'Scatter', figures: true },
        { label: 'Akaike', figures: true }
      ],
      rows: fits.map(({ response, scale, outcome, tau, akaike }) =>
        cells(
          `${response} over ${scale}`,
          outcome === 'converged' ? outcome : outcome.found,
          tau === undefined ? '' : figure(tau),
          akaike?.toFixed(2) ?? ''
        )
      )
    },
    'No response was tried on rows that repeat a flaw.'
  )

function repeatedBlocks(repeated: NonNullable<SignalResult['repeated']>, { study }: SignalResult): readonly Block[] {
  if (isRefusal(repeated)) return [heading(2, 'Response'), noCurve(repeated)]
  return [
    heading(2, 'Response'),
    { block: 'facts', facts: scatterFacts(repeated) },
    ...repeated.groups.flatMap((group) => repeatedGroup(group, study.share))
  ]
}

const scatterFacts = ({ slope, slopeError, variances }: RepeatedCurve) => [
  { label: 'Slope', value: figure(slope, 6), known: `standard error ${figure(slopeError)}` },
  { label: 'Scatter of flaws', value: figure(Math.sqrt(variances.flaws)) },
  ...(variances.inspectors === undefined
    ? []
    : [{ label: 'Scatter of inspectors', value: figure(Math.sqrt(variances.inspectors)) }]),
  { label: 'Scatter of repeats', value: figure(Math.sqrt(variances.repeats)) }
]

function repeatedGroup({ inspector, a50_m, asked_m, bounds, points }: RepeatedGroup, share: number): readonly Block[] {
  const who = inspector === '' ? 'inspectors like these' : inspector
  return [
    heading(3, who),
    {
      block: 'facts',
      facts: [
        { label: 'Half are called at', value: mm(a50_m, 3) },
        { label: `${percent(share)} are called at`, value: mm(asked_m, 3) }
      ]
    },
    boundTable(bounds, who),
    curveFigure({ a50_m, asked_m, points }, 'call', who)
  ]
}
