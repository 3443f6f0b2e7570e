import { axes, type Box, type Mark, type Point, place, type Scale, svg, ticks } from '@trueloop/ground/picture'
import { isRefusal } from '@trueloop/ground/refusal'
import { type Block, cells, heading } from '../../../record/index.ts'
import { figure, limits, mm, originFacts, percent } from '../../report/words.ts'
import type { SweptThreshold } from '../sweep.ts'
import type { SweepResult } from '../sweep-study.ts'

/** What other thresholds would give, as neutral blocks. */
export const sweepBlocks = ({ study, data, method, program, swept }: SweepResult): readonly Block[] => [
  heading(1, 'Sizes and false calls over the threshold'),
  {
    ...{ block: 'caution', tone: 'note', title: `The threshold of the study is ${study.of.threshold}` },
    text: 'Another one chosen after these results proves nothing by them: it takes a trial of its own.'
  },
  heading(2, 'Study'),
  {
    block: 'facts',
    facts: [
      { label: 'Study', value: study.name },
      { label: 'Conditions', value: study.of.conditions },
      {
        label: 'Noise',
        value:
          study.noise === null ? 'not stated: false calls are not told' : `${study.noise.law}, from ${study.noise.from}`
      },
      { label: 'Rows', value: `${data.rows}` },
      ...originFacts({ sha256: data.sha256, method, program })
    ]
  },
  ...sweepFigure(swept),
  {
    ...{ block: 'table', caption: 'What each threshold would give' },
    columns: [
      { label: 'Threshold', figures: true },
      { label: 'Chance of a false call', figures: true },
      { label: 'Half are called at', figures: true },
      { label: `${percent(study.of.share)} at`, figures: true },
      { label: `${percent(study.of.share)} with ${percent(study.of.confidence)} confidence`, figures: true }
    ],
    rows: swept.map(sweptRow)
  },
  heading(2, 'Limitations and cautions'),
  limits(['Chances of false calls are those of one opportunity, by the law of the noise: the tail is a model.'])
]

function sweptRow({ threshold, falseCalls, sizes }: SweptThreshold) {
  const calls = falseCalls === undefined ? '' : figure(falseCalls, 3)
  if (isRefusal(sizes)) return cells(figure(threshold), calls, 'none', 'none', `none: ${sizes.found}`)
  const { a50_m, asked_m, stated } = sizes
  return cells(figure(threshold), calls, mm(a50_m, 3), mm(asked_m, 3), isRefusal(stated) ? 'none' : mm(stated, 3))
}

const box: Box = { x: 54, y: 20, width: 380, height: 220 }

/** Both sides of the choice in one drawing: the size to the left, the chance of a false call to the right. */
function sweepFigure(swept: readonly SweptThreshold[]): readonly Block[] {
  const sizes = swept.flatMap(({ threshold, sizes: of }): readonly Point[] =>
    isRefusal(of) || isRefusal(of.stated) ? [] : [[threshold, 1000 * of.stated]]
  )
  const calls = swept.flatMap(({ threshold, falseCalls }): readonly Point[] =>
    falseCalls === undefined ? [] : [[threshold, falseCalls]]
  )
  if (sizes.length < 2) return []
  const [first, last] = [swept[0]!.threshold, swept.at(-1)!.threshold]
  const x: Scale = { from: first, to: last, start: box.x, end: box.x + box.width }
  const y = (most: number): Scale => ({ from: 0, to: most, start: box.y + box.height, end: box.y })
  const [size, call] = [y(1.05 * most(sizes)), y(Math.max(1e-12, 1.05 * most(calls)))]
  const path = (points: readonly Point[], scale: Scale, tone: 'accent' | 'amber'): readonly Mark[] =>
    points.length < 2
      ? []
      : [
          {
            mark: 'path',
            points: points.map(([at, value]) => [place(x, at), place(scale, value)]),
            stroke: { tone, width: 2 }
          }
        ]
  const alt = `Stated size (dark) from ${sizes[0]![1].toFixed(2)} to ${sizes.at(-1)![1].toFixed(2)} mm over thresholds from ${figure(first)} to ${figure(last)}${calls.length < 2 ? '' : ', and the chance of a false call (amber), which falls'}.`
  return [
    {
      ...{
        block: 'figure',
        width: 'whole',
        alt,
        caption: 'Stated size (left) and chance of a false call (right) over the threshold'
      },
      svg: svg({
        ...{ width: 500, height: 280, description: alt },
        marks: [
          ...axes(
            box,
            { scale: x, ticks: ticks(first, last, 6), label: 'threshold' },
            { scale: size, ticks: ticks(0, size.to, 5), label: 'stated size, mm' }
          ),
          ...(calls.length < 2 ? [] : callAxis(call)),
          ...path(sizes, size, 'accent'),
          ...path(calls, call, 'amber')
        ]
      })
    }
  ]
}

const most = (points: readonly Point[]): number => points.reduce((a, [, value]) => Math.max(a, value), 0)

const callAxis = (scale: Scale): readonly Mark[] =>
  ticks(0, scale.to, 4).map(({ value, text }) => ({
    ...{ mark: 'text', at: [box.x + box.width + 6, place(scale, value) + 3], text, size: 9, tone: 'amber' }
  }))
