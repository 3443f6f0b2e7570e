import type { FitTest } from '@trueloop/ground/numerics'
import { isRefusal } from '@trueloop/ground/refusal'
import { type Block, cells, heading, tableOr } from '../../../record/index.ts'
import { curveFigure } from '../../report/curve-figure.ts'
import {
  exclusionTable,
  falseCallBlock,
  limits,
  mm,
  notReal,
  originFacts,
  percent,
  statement
} from '../../report/words.ts'
import { criterionText, type SizeBound } from '../bounds.ts'
import type { TriedFit } from '../fits.ts'
import type { CurveResult, GroupResult } from '../group.ts'
import type { HitMissResult } from '../prove.ts'

/** A study by hits and misses as neutral blocks: what it states, with all that the statement hangs on. */
export const hitMissBlocks = (result: HitMissResult): readonly Block[] => [
  heading(1, 'Capability by hits and misses'),
  statement(result.study, result.stated_m),
  ...notReal(result.study),
  heading(2, 'Study'),
  { block: 'facts', facts: studyFacts(result) },
  heading(2, 'False calls'),
  falseCallBlock(result.falseCalls, result.study.confidence),
  ...result.groups.flatMap((group) => groupBlocks(group, result)),
  heading(2, 'Rows left out'),
  exclusionTable(result.data.exclusions),
  heading(2, 'Limitations and cautions'),
  limits([
    ...result.advice.map(({ inspector, text }) => (inspector === '' ? text : `${inspector}: ${text}`)),
    'It holds for the flaws, people and conditions of this trial. A flaw smaller than the stated one can be found, a larger one missed.'
  ])
]

function studyFacts({ study, data, method, program }: HitMissResult) {
  return [
    { label: 'Study', value: study.name },
    { label: 'Conditions', value: study.conditions },
    { label: 'Size', value: study.measure },
    { label: 'Curve', value: `${study.link} of ${study.scale}` },
    {
      label: 'Inspectors',
      value: study.inspectors === 'one' ? 'one row for each flaw' : 'each alone, the worst is stated'
    },
    {
      label: 'Rows',
      value: `${data.rows}: ${data.flaws} flaws, ${data.blanks} blanks, ${data.exclusions.length} left out`
    },
    ...originFacts({ sha256: data.sha256, method, program })
  ]
}

function groupBlocks(group: GroupResult, { study }: HitMissResult): readonly Block[] {
  const { inspector, hits, misses, smallest_m, largest_m, curve, fits } = group
  const who = inspector === '' ? 'All rows' : inspector
  const counts: Block = {
    block: 'facts',
    facts: [
      { label: 'Hits', value: `${hits}` },
      { label: 'Misses', value: `${misses}` },
      { label: 'Size', value: `${mm(smallest_m)} to ${mm(largest_m)}` }
    ]
  }
  const tried = tableOr(
    {
      caption: 'Every fit that was tried',
      columns: [{ label: 'Curve' }, { label: 'Outcome' }, { label: 'Akaike', figures: true }],
      rows: fits.map((fit) => cells(fitName(fit), fitOutcome(fit), fit.akaike?.toFixed(2) ?? ''))
    },
    'No fit was tried.'
  )
  if (isRefusal(curve)) {
    const none: Block = {
      ...{ block: 'caution', tone: 'warning', title: 'No curve' },
      text: `Found ${curve.found}; needed ${curve.needed}.`
    }
    return [heading(2, who), counts, none, tried]
  }
  return [heading(2, who), counts, ...curveBlocks(curve, study.share, who), tried]
}

const fitName = ({ link, scale, estimate }: TriedFit): string =>
  `${link} of ${scale}${estimate === 'likelihood' ? '' : `, ${estimate}`}`
const fitOutcome = ({ outcome }: TriedFit): string => (outcome === 'converged' ? outcome : outcome.found)

const curveBlocks = (curve: CurveResult, share: number, who: string): readonly Block[] => [
  {
    block: 'facts',
    facts: [
      { label: 'Half are found at', value: mm(curve.a50_m, 3) },
      { label: `${percent(share)} are found at`, value: mm(curve.asked_m, 3) }
    ]
  },
  {
    ...{ block: 'table', caption: 'Bounds of that size' },
    columns: [{ label: 'Method' }, { label: 'Criterion' }, { label: 'Bound', figures: true }],
    rows: curve.bounds.map((bound) => cells(bound.method, criterionText(bound.criterion), sizeText(bound)))
  },
  curveFigure(
    {
      ...curve,
      points: curve.points.map(({ size_m, share, likelihood }) => ({ size_m, share, ...likelihood }))
    },
    'hit',
    who
  ),
  tableOr(
    {
      caption: 'How well the curve fits',
      columns: [{ label: 'Test' }, { label: 'Statistic', figures: true }, { label: 'Chance', figures: true }],
      rows: testRows(curve)
    },
    'No test of the fit holds for so few flaws.'
  )
]

const sizeText = ({ size_m }: SizeBound): string => (isRefusal(size_m) ? 'none' : mm(size_m, 3))

function testRows({ tests: { sizes, deciles, bend } }: CurveResult) {
  const named: readonly (readonly [string, FitTest | undefined])[] = [
    ['deviance by size', sizes?.deviance],
    ['squares by size', sizes?.pearson],
    ['ten groups', deciles],
    ['bend', bend]
  ]
  return named.flatMap(([name, test]) =>
    test === undefined ? [] : [cells(name, `${test.statistic.toFixed(2)} of ${test.dof}`, test.p.toFixed(3))]
  )
}
