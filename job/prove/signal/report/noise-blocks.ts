import { type Block, cells, heading } from '../../../record/index.ts'
import { figure, limits, originFacts, percent } from '../../report/words.ts'
import type { NoiseResult } from '../noise-study.ts'

/** A threshold from noise, as neutral blocks. */
export const noiseBlocks = (result: NoiseResult): readonly Block[] => [
  heading(1, 'Threshold from noise'),
  {
    ...{ block: 'caution', tone: 'note', title: `Threshold ${figure(result.threshold)}${inUnit(result)}` },
    text: `Passed by noise alone in ${percent(result.study.chance)} of opportunities (${result.study.opportunity}), ${sureText(result)}. Noise as ${result.study.law}.`
  },
  heading(2, 'Study'),
  {
    block: 'facts',
    facts: [
      { label: 'Study', value: result.study.name },
      { label: 'Conditions', value: result.study.conditions },
      { label: 'Readings', value: `${result.data.readings}` },
      ...originFacts({ sha256: result.data.sha256, method: result.method, program: result.program })
    ]
  },
  heading(2, 'Every law that was tried'),
  {
    ...{ block: 'table', caption: 'Laws of the noise' },
    columns: [
      { label: 'Law' },
      { label: 'Outcome' },
      { label: 'Akaike', figures: true },
      { label: 'Threshold', figures: true }
    ],
    rows: result.tried.map(({ law, outcome, akaike, threshold }) =>
      cells(
        ...[law, outcome === 'fitted' ? outcome : outcome.found],
        ...[akaike?.toFixed(2) ?? '', threshold === undefined ? '' : figure(threshold)]
      )
    )
  },
  heading(2, 'Limitations and cautions'),
  limits([
    'Laws that fit alike can differ by a third in the far tail: the upper tail decides, not the fit as a whole.',
    `A scan passes many opportunities: each ${result.study.opportunity} is one.`
  ])
]

const inUnit = ({ data: { unit } }: NoiseResult): string => (unit === '' ? '' : ` ${unit}`)

const sureText = ({ study: { confidence } }: NoiseResult): string =>
  confidence === null ? 'by the best estimate' : `with ${percent(confidence)} confidence`
