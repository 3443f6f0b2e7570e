import type { CrossedAnova, Source } from '@trueloop/ground/numerics'
import { type Block, cells, heading } from '../../../record/index.ts'
import { chanceText, figure, limits, originFacts, percent, span } from '../../report/words.ts'
import type { Components, DeviationInterval } from '../components.ts'
import type { GaugeResult, GaugeShare } from '../prove.ts'
import type { RangeFigures } from '../ranges.ts'

/** A gauge study as neutral blocks. */
export const gaugeBlocks = (result: GaugeResult): readonly Block[] => [
  heading(1, 'Gauge study'),
  verdict(result),
  heading(2, 'Study'),
  { block: 'facts', facts: studyFacts(result) },
  heading(2, 'Where the scatter comes from'),
  shareTable(result.shares),
  { block: 'facts', facts: [{ label: 'Groups of parts told apart', value: `${result.categories}` }] },
  ...(result.components === undefined ? [] : componentBlocks(result.components, result.study.confidence)),
  ...(result.ranges === undefined ? [] : rangeBlocks(result.ranges)),
  heading(2, 'Limitations and cautions'),
  limits([
    ...result.advice.filter(({ about }) => about !== 'verdict').map(({ text }) => text),
    'It holds for the parts, people and set-up of the study. Parts that do not span the range of the work make every share meaningless.'
  ])
]

const verdict = ({ advice }: GaugeResult): Block => ({
  ...{ block: 'caution', tone: 'note', title: 'Share of the gauge' },
  text: advice.find(({ about }) => about === 'verdict')?.text ?? ''
})

function studyFacts({ study, data, method, program }: GaugeResult) {
  const { interaction, tolerance } = study
  return [
    { label: 'Study', value: study.name },
    { label: 'Conditions', value: study.conditions },
    { label: 'Reading', value: study.reading, known: `taken as ${study.scale}` },
    { label: 'Worked out by', value: study.method },
    {
      label: 'Parts with operators',
      value: typeof interaction === 'string' ? interaction : `left out above a chance of ${interaction.pooledAbove}`
    },
    { label: 'Width of a spread', value: `${study.width} standard deviations` },
    { label: 'Tolerance', value: tolerance === null ? 'none stated' : `${tolerance}` },
    { label: 'Readings', value: `${data.readings}: ${data.parts} parts, ${data.operators} operators` },
    ...originFacts({ sha256: data.sha256, method, program })
  ]
}

function shareTable(shares: readonly GaugeShare[]): Block {
  const isTold = shares.some(({ ofTolerance }) => ofTolerance !== undefined)
  const figures = (label: string) => ({ label, figures: true })
  return {
    ...{ block: 'table', caption: 'Scatter by source' },
    columns: [
      { label: 'Source' },
      figures('Standard deviation'),
      figures('Of the variance, %'),
      figures('Of the scatter, %'),
      figures('Spread'),
      ...(isTold ? [figures('Of the tolerance, %')] : [])
    ],
    rows: shares.map(({ source, deviation, contribution, variation, spread, ofTolerance }) =>
      cells(
        ...[source, figure(deviation), contribution.toFixed(2), variation.toFixed(2), figure(spread)],
        ...(isTold ? [ofTolerance?.toFixed(2) ?? ''] : [])
      )
    )
  }
}

const componentBlocks = (
  { raw, anova, isInteractionKept, ofRepeat, ofGauge }: Components,
  confidence: number
): readonly Block[] => [
  {
    ...{ block: 'table', caption: 'Variances as they came out' },
    columns: [{ label: 'Source' }, { label: 'Variance', figures: true }],
    rows: Object.entries(raw).map(([source, value]) => cells(source, figure(value)))
  },
  {
    ...{ block: 'table', caption: `Standard deviations, ${percent(confidence)} intervals` },
    columns: [{ label: 'Source' }, { label: 'Method' }, { label: 'Interval', figures: true }],
    rows: [...ofRepeat.map((one) => intervalRow('repeat', one)), ...ofGauge.map((one) => intervalRow('gauge', one))]
  },
  ...(anova === undefined ? [] : [anovaTable(anova, isInteractionKept)])
]

const intervalRow = (source: string, { method, limits: { lower, upper } }: DeviationInterval) =>
  cells(source, method, span(lower, upper))

const anovaTable = ({ ofRows, ofColumns, interaction, within, chances }: CrossedAnova, isKept: boolean): Block => ({
  ...{ block: 'table', caption: `Mean squares${isKept ? '' : ', before parts with operators were left out'}` },
  columns: [
    { label: 'Source' },
    ...['Degrees of freedom', 'Sum of squares', 'Mean square', 'Ratio', 'Chance'].map((label) => ({
      label,
      figures: true
    }))
  ],
  rows: [
    meanRow('part', ofRows, { against: interaction, chance: chances.rows }),
    meanRow('operator', ofColumns, { against: interaction, chance: chances.columns }),
    meanRow('interaction', interaction, { against: within, chance: chances.interaction }),
    meanRow('repeat', within)
  ]
})

const meanRow = (
  name: string,
  { sum, dof, mean }: Source,
  tested?: { readonly against: Source; readonly chance: number }
) =>
  cells(
    ...[name, `${dof}`, figure(sum, 6), figure(mean, 6)],
    ...(tested === undefined ? ['', ''] : [figure(mean / tested.against.mean, 6), chanceText(tested.chance)])
  )

const rangeBlocks = ({ meanRange, operatorRange, partRange, factors }: RangeFigures): readonly Block[] => [
  {
    ...{ block: 'table', caption: 'Ranges' },
    columns: [{ label: 'Of' }, { label: 'Range', figures: true }, { label: 'Factor', figures: true }],
    rows: [
      cells('repeats, mean', figure(meanRange), `${factors.repeat}`),
      cells('means of operators', figure(operatorRange), `${factors.operator}`),
      cells('means of parts', figure(partRange), `${factors.part}`)
    ]
  }
]
