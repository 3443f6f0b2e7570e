import { isRefusal } from '@trueloop/ground/refusal'
import { type Block, cells, heading } from '../../../record/index.ts'
import { figure, limits, percent, span } from '../../report/words.ts'
import type { SizeUncertainty } from '../size.ts'

/** A size with its uncertainty and budget, as neutral blocks. */
export const sizeBlocks = (result: SizeUncertainty): readonly Block[] => [
  heading(1, 'Uncertainty of a size'),
  statementOf(result),
  heading(2, 'Budget'),
  budgetTable(result),
  heading(2, 'Intervals'),
  intervalTable(result),
  { block: 'facts', facts: drawFacts(result) },
  heading(2, 'Limitations and cautions'),
  limits([
    'It is the uncertainty of what the budget names. What is missing in the budget is missing in the interval.',
    'A size read off a curve of notches is notch-equivalent: a crack of the same depth can answer weaker.'
  ])
]

function statementOf({ asked, size_mm, stated }: SizeUncertainty): Block {
  const sure = percent(asked.confidence)
  return {
    ...{ block: 'caution', tone: stated.isSettled ? 'note' : 'warning' },
    title: `${figure(size_mm)} mm, ${sure} from ${figure(stated.lower_mm)} to ${figure(stated.upper_mm)} mm`,
    text: `Interval by ${stated.by}${stated.isSettled ? '' : '; the draws had not settled when they ended: its last digit may move'}.`
  }
}

const budgetTable = ({ budget, combined_mm }: SizeUncertainty): Block => ({
  ...{ block: 'table', caption: `Budget, combined standard uncertainty ${figure(combined_mm)} mm` },
  columns: [
    { label: 'Source' },
    { label: 'Known by' },
    ...['Value', 'Standard uncertainty', 'Contribution, mm', 'Share, %'].map((label) => ({ label, figures: true }))
  ],
  rows: budget.map(({ name, basis, value, uncertainty, contribution, share }) =>
    cells(name, basis, figure(value), figure(uncertainty), figure(contribution), (100 * share).toFixed(1))
  )
})

function intervalTable({ propagated, drawn }: SizeUncertainty): Block {
  const straight = isRefusal(propagated) ? `none: ${propagated.found}` : span(propagated.lower, propagated.upper)
  return {
    ...{ block: 'table', caption: 'Intervals by each method, mm' },
    columns: [{ label: 'Method' }, { label: 'Interval', figures: true }],
    rows: [
      cells('propagation', straight),
      cells('draws, as much beyond each end', span(drawn.symmetric.lower, drawn.symmetric.upper)),
      cells('draws, the shortest', span(drawn.shortest.lower, drawn.shortest.upper))
    ]
  }
}

const drawFacts = ({ asked, drawn, isStraight, dof, method }: SizeUncertainty) => [
  { label: 'Draws', value: `${drawn.trials}`, known: `seed ${asked.seed}` },
  { label: 'Settled', value: drawn.isSettled ? 'yes' : 'no', known: `to ${figure(drawn.tolerance)} mm` },
  { label: 'Propagation agrees', value: isStraight ? 'yes' : 'no' },
  ...(dof === undefined ? [] : [{ label: 'Degrees of freedom', value: figure(dof) }]),
  { label: 'Method', value: `${method}` }
]
