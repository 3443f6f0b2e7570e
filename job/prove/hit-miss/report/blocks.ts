import type { FitTest } from '@trueloop/ground/numerics'
import { isRefusal } from '@trueloop/ground/refusal'
import { type Block, cells, heading, list, tableOr } from '../../../record/index.ts'
import type { SizeBound } from '../bounds.ts'
import type { TriedFit } from '../fits.ts'
import type { CurveResult, GroupResult } from '../group.ts'
import type { HitMissResult } from '../prove.ts'
import { curveFigure } from './curve-figure.ts'

/** A study by hits and misses as neutral blocks: what it states, with all that the statement hangs on. */
export const hitMissBlocks = (result: HitMissResult): readonly Block[] => [
  heading(1, 'Capability by hits and misses'),
  statement(result),
  ...notReal(result),
  heading(2, 'Study'),
  { block: 'facts', facts: studyFacts(result) },
  heading(2, 'False calls'),
  falseCallBlock(result),
  ...result.groups.flatMap((group) => groupBlocks(group, result)),
  heading(2, 'Rows left out'),
  tableOr(
    {
      caption: 'Rows left out',
      columns: [{ label: 'Row' }, { label: 'Found' }, { label: 'What to do' }],
      rows: result.data.exclusions.map(({ row, why }) => cells(row, why.found, why.remedy))
    },
    'None.'
  ),
  heading(2, 'Limitations and cautions'),
  list([
    ...result.advice.map(({ inspector, text }) => (inspector === '' ? text : `${inspector}: ${text}`)),
    'It holds for the flaws, people and conditions of this trial. A flaw smaller than the stated one can be found, a larger one missed.',
    'A person attaches it to a technique, or does not. No statement on airworthiness or fitness for service is made.'
  ])
]

const mm = (size_m: number, digits = 2): string => `${(1000 * size_m).toFixed(digits)} mm`
const percent = (share: number, digits = 0): string => `${(100 * share).toFixed(digits)} %`

function statement({ study, stated_m }: HitMissResult): Block {
  const { measure, share, confidence, bound } = study
  if (isRefusal(stated_m))
    return {
      ...{ block: 'caution', tone: 'warning', title: 'Not demonstrated' },
      text: `No size can be stated: found ${stated_m.found}; needed ${stated_m.needed}. ${stated_m.remedy}.`
    }
  return {
    ...{ block: 'caution', tone: 'note' },
    title: `${measure === 'depth' ? 'Depth' : 'Length'} of ${mm(stated_m)}: found in ${percent(share)} of cases with ${percent(confidence)} confidence`,
    text: `Bound by ${bound}, as the study states; that is to be fixed before anybody looks. Other methods give other bounds: they stand below.`
  }
}

const notReal = ({ study: { flaws } }: HitMissResult): readonly Block[] =>
  flaws === 'real'
    ? []
    : [
        {
          ...{ block: 'caution', tone: 'stop', title: 'Proves no technique' },
          text: `${flaws === 'notches' ? 'Notches' : 'Simulated flaws'} stood for real ones.`
        }
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
    { label: 'Data', value: data.sha256, known: 'hash of the rows as given' },
    { label: 'Method', value: `${method}`, known: program }
  ]
}

function falseCallBlock({ falseCalls, study }: HitMissResult): Block {
  if (isRefusal(falseCalls))
    return {
      ...{ block: 'caution', tone: 'warning', title: 'False calls are not known' },
      text: `Found ${falseCalls.found}; needed ${falseCalls.needed}.`
    }
  const { calls, blanks, rate, upper } = falseCalls
  return {
    block: 'facts',
    facts: [
      { label: 'Called', value: `${calls} of ${blanks} blanks`, known: percent(rate, 1) },
      { label: 'At most', value: percent(upper, 1), known: `with ${percent(study.confidence)} confidence, exact` }
    ]
  }
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
    rows: curve.bounds.map((bound) => cells(bound.method, criterionText(bound), sizeText(bound)))
  },
  curveFigure(curve, who),
  tableOr(
    {
      caption: 'How well the curve fits',
      columns: [{ label: 'Test' }, { label: 'Statistic', figures: true }, { label: 'Chance', figures: true }],
      rows: testRows(curve)
    },
    'No test of the fit holds for so few flaws.'
  )
]

const criterionText = ({ criterion: { law, dof, value } }: SizeBound): string =>
  `${law}${dof === undefined ? '' : ` of ${dof}`}: ${value.toFixed(4)}`
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
