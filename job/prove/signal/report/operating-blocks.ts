import { binormalHits, type OperatingPoint } from '@trueloop/ground/numerics'
import { axes, type Box, type Mark, type Point, place, type Scale, svg, ticks } from '@trueloop/ground/picture'
import { isRefusal } from '@trueloop/ground/refusal'
import { type Block, cells, heading } from '../../../record/index.ts'
import { exclusionTable, figure, limits, notReal, originFacts, percent, span } from '../../report/words.ts'
import type { OperatingResult } from '../operating.ts'

/** How well a signal tells flaws from blanks, as neutral blocks. */
export const operatingBlocks = (result: OperatingResult): readonly Block[] => {
  const { study, data, method, program, points, area, best, advice } = result
  return [
    heading(1, 'Hits and false calls over the threshold'),
    ...notReal(study),
    heading(2, 'Study'),
    {
      block: 'facts',
      facts: [
        { label: 'Study', value: study.name },
        { label: 'Conditions', value: study.conditions },
        { label: 'Flaws', value: `${data.flaws}` },
        { label: 'Blanks', value: `${data.blanks}` },
        ...originFacts({ sha256: data.sha256, method, program })
      ]
    },
    heading(2, 'All thresholds together'),
    {
      block: 'facts',
      facts: [
        {
          ...{ label: 'Flaw over blank', value: percent(area.area, 1) },
          known: 'of pairs of a flaw and a blank, ties one half'
        },
        { label: 'Interval', value: intervalText(result), known: `${percent(study.confidence)}, by log odds` },
        {
          ...{ label: 'Most hits less false calls', value: `at ${figure(best.threshold)}` },
          known: `${percent(best.gained, 1)}, on these signals`
        }
      ]
    },
    ...curveFigure(result),
    {
      ...{ block: 'table', caption: 'What each threshold gives' },
      columns: ['Threshold', 'Hits', 'At least', 'False calls', 'At most'].map((label) => ({ label, figures: true })),
      rows: points.map((point) => pointRow(point, result))
    },
    heading(2, 'Rows left out'),
    exclusionTable(data.exclusions),
    heading(2, 'Limitations and cautions'),
    limits(advice.map(({ text }) => text))
  ]
}

const intervalText = ({ area: { logitInterval } }: OperatingResult): string =>
  logitInterval === undefined ? 'none: the signals do not overlap' : span(logitInterval.lower, logitInterval.upper)

function pointRow({ threshold, hits, hitLower, falseCalls, falseUpper }: OperatingPoint, { data }: OperatingResult) {
  return cells(
    figure(threshold),
    `${hits} of ${data.flaws}`,
    percent(hitLower, 1),
    `${falseCalls} of ${data.blanks}`,
    percent(falseUpper, 1)
  )
}

const box: Box = { x: 54, y: 20, width: 300, height: 300 }
const STEPS = 60

const dot = (at: Point): Mark => ({ mark: 'circle', at, radius: 3.5, fill: 'amber' })

/** Points of the thresholds, and the smooth curve of two normal laws where there is one. */
function curveFigure({ points, normal }: OperatingResult): readonly Block[] {
  const x: Scale = { from: 0, to: 1, start: box.x, end: box.x + box.width }
  const y: Scale = { from: 0, to: 1, start: box.y + box.height, end: box.y }
  const at = (falseRate: number, hitRate: number): Point => [place(x, falseRate), place(y, hitRate)]
  const smooth = isRefusal(normal)
    ? []
    : Array.from({ length: STEPS - 1 }, (_, i) => at((i + 1) / STEPS, binormalHits(normal, (i + 1) / STEPS)))
  const alt = `Hits over false calls at ${points.length} thresholds${smooth.length === 0 ? '' : ', with the curve of two normal laws'}.`
  const curve: readonly Mark[] =
    smooth.length === 0 ? [] : [{ mark: 'path', points: smooth, stroke: { tone: 'accent', width: 2 } }]
  return [
    {
      ...{ block: 'figure', width: 'half', alt, caption: 'Share of flaws called over share of blanks called' },
      svg: svg({
        ...{ width: 380, height: 360, description: alt },
        marks: [
          ...axes(
            box,
            { scale: x, ticks: ticks(0, 1, 5), label: 'false calls' },
            { scale: y, ticks: ticks(0, 1, 5), label: 'hits' }
          ),
          ...curve,
          ...points.map(({ falseRate, hitRate }): Mark => dot(at(falseRate, hitRate)))
        ]
      })
    }
  ]
}
