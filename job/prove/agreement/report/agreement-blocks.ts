import { isRefusal } from '@trueloop/ground/refusal'
import { type Block, cells, heading, tableOr } from '../../../record/index.ts'
import { figure, limits, originFacts, percent } from '../../report/words.ts'
import type { AgainstTruth, AgreementResult, Counted } from '../calls.ts'

/** How well inspectors agree, as neutral blocks. */
export const agreementBlocks = (result: AgreementResult): readonly Block[] => [
  heading(1, 'Agreement of inspectors'),
  verdict(result),
  heading(2, 'Study'),
  { block: 'facts', facts: studyFacts(result) },
  heading(2, 'Two by two'),
  pairTable(result),
  heading(2, 'Against what the sites are'),
  truthTable(result.againstTruth),
  heading(2, 'Limitations and cautions'),
  limits([
    'Kappa is small where one category rules, however well people agree: look at the shares of the categories beside it.',
    'Inspectors who agree can all be wrong: only known sites show that.',
    'It holds for these sites and people.'
  ])
]

function verdict({ all, study, data }: AgreementResult): Block {
  if (isRefusal(all))
    return {
      ...{ block: 'caution', tone: 'warning', title: 'Agreement beyond chance is not defined' },
      text: `Found ${all.found}; needed ${all.needed}.`
    }
  return {
    ...{ block: 'caution', tone: 'note', title: `Kappa of all inspectors: ${figure(all.kappa)}` },
    text: `${data.inspectors} inspectors called ${data.sites} sites by ${study.categories.join(', ')}. 1 is full agreement, 0 is what chance gives.`
  }
}

const studyFacts = ({ study, data, shares, method, program }: AgreementResult) => [
  { label: 'Study', value: study.name },
  { label: 'Conditions', value: study.conditions },
  { label: 'Calls of a flaw', value: study.flawed.join(', ') },
  {
    label: 'Share of each category',
    value: shares.map(({ category, share }) => `${category} ${percent(share, 0)}`).join(', ')
  },
  { label: 'Sites', value: `${data.sites}`, known: `${data.inspectors} inspectors each` },
  ...originFacts({ sha256: data.sha256, method, program })
]

const counted = ({ successes, trials, lower, upper }: Counted): string =>
  `${successes} of ${trials}, ${percent(lower, 1)} to ${percent(upper, 1)}`

function pairTable({ pairs, study }: AgreementResult): Block {
  const sure = percent(study.confidence)
  return {
    ...{ block: 'table', caption: 'Pairs of inspectors' },
    columns: [
      { label: 'First' },
      { label: 'Second' },
      { label: `Same call, ${sure} exact` },
      { label: 'Kappa', figures: true },
      { label: `${sure} interval`, figures: true },
      { label: 'Largest possible', figures: true }
    ],
    rows: pairs.map(({ first, second, agreed, kappa }) =>
      cells(first, second, counted(agreed), ...kappaCells(kappa), isRefusal(kappa) ? '' : figure(kappa.largest))
    )
  }
}

function kappaCells(kappa: AgainstTruth['kappa']): readonly string[] {
  if (isRefusal(kappa)) return [`none: ${kappa.found}`, '']
  return [figure(kappa.kappa), `${figure(kappa.lower, 3)} to ${figure(kappa.upper, 3)}`]
}

const truthTable = (against: readonly AgainstTruth[]): Block =>
  tableOr(
    {
      caption: 'Each inspector against the truth',
      columns: [
        { label: 'Inspector' },
        { label: 'Flaws called' },
        { label: 'Others called' },
        { label: 'Kappa', figures: true },
        { label: 'Interval', figures: true }
      ],
      rows: against.map(({ inspector, hits, falseCalls, kappa }) =>
        cells(
          ...[inspector, hits === undefined ? 'no flaw' : counted(hits)],
          ...[falseCalls === undefined ? 'no other' : counted(falseCalls), ...kappaCells(kappa)]
        )
      )
    },
    'What the sites are is not known: agreement is no correctness.'
  )
