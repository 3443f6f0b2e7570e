import { type Block, cells, heading } from '../../../record/index.ts'
import { chanceText, figure, limits, originFacts, percent, span } from '../../report/words.ts'
import type { InstrumentResult } from '../instruments.ts'

/** Two instruments compared, as neutral blocks. */
export const instrumentBlocks = (result: InstrumentResult): readonly Block[] => [
  heading(1, 'Two instruments compared'),
  verdict(result),
  heading(2, 'Study'),
  { block: 'facts', facts: studyFacts(result) },
  heading(2, 'Differences'),
  differenceTable(result),
  { block: 'facts', facts: otherFacts(result) },
  heading(2, 'Limitations and cautions'),
  limits([
    ...result.advice.map(({ text }) => text),
    'A high correlation is no agreement. It holds for these parts and set-ups, within the range of these readings.'
  ])
]

function verdict({ isWithinAllowed, study: { allowed, scale } }: InstrumentResult): Block {
  if (isWithinAllowed === undefined)
    return {
      ...{ block: 'caution', tone: 'note', title: 'No limit was stated' },
      text: 'Whether the instruments may stand for each other needs a limit that was fixed beforehand.'
    }
  const limit = `a ${scale} of ${allowed}`
  return isWithinAllowed
    ? {
        ...{ block: 'caution', tone: 'note', title: `Within ${limit}` },
        text: 'Both limits of agreement lie within what is allowed, with their intervals.'
      }
    : {
        ...{ block: 'caution', tone: 'warning', title: `Not shown to be within ${limit}` },
        text: 'A limit of agreement, or its interval, lies beyond what is allowed.'
      }
}

const studyFacts = ({ study, data, method, program }: InstrumentResult) => [
  { label: 'Study', value: study.name },
  { label: 'Conditions', value: study.conditions },
  { label: 'Taken as', value: study.scale === 'ratio' ? 'ratios, first by second' : 'differences, first less second' },
  { label: 'Pairs', value: `${data.pairs}` },
  ...originFacts({ sha256: data.sha256, method, program })
]

function differenceTable({ differences, ratios, study }: InstrumentResult): Block {
  const { bias, biasInterval, limits: ends, lowerLimit, upperLimit } = differences
  const inLog = ratios === undefined ? '' : ', of logarithms'
  const row = (name: string, value: number, { lower, upper }: { readonly lower: number; readonly upper: number }) =>
    cells(name, figure(value), span(lower, upper))
  const rows = [
    row('bias', bias, biasInterval),
    row('lower limit of agreement', ends.lower, lowerLimit),
    row('upper limit of agreement', ends.upper, upperLimit)
  ]
  return {
    ...{ block: 'table', caption: `Bias and limits of agreement${inLog}` },
    columns: [
      { label: 'Figure' },
      { label: 'Value', figures: true },
      { label: `${percent(study.confidence)} interval`, figures: true },
      ...(ratios === undefined ? [] : [{ label: 'As a ratio', figures: true }])
    ],
    rows:
      ratios === undefined
        ? rows
        : rows.map((cellsOf, at) => [...cellsOf, { text: figure([ratios.bias, ratios.lower, ratios.upper][at]!) }])
  }
}

const otherFacts = ({ differences, study }: InstrumentResult) => [
  { label: 'Standard deviation of a difference', value: figure(differences.deviation) },
  { label: 'Limits lie at', value: `${study.width} standard deviations` },
  {
    label: 'Change with the reading',
    value: figure(differences.slope),
    known: `chance ${chanceText(differences.slopeChance)}`
  },
  { label: 'Correlation', value: figure(differences.correlation) },
  { label: 'Concordance', value: figure(differences.concordance) }
]
