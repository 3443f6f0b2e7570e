import { exp } from '@trueloop/ground/numerics'
import { axes, type Box, line, type Mark, type Point, place, type Scale, svg, ticks } from '@trueloop/ground/picture'
import type { Block } from '../../../record/index.ts'
import { placeOf } from '../fits.ts'
import type { SignalRow } from '../rows.ts'
import type { SignalStudy } from '../study.ts'

const box: Box = { x: 54, y: 20, width: 420, height: 240 }
const STEPS = 60

interface Straight {
  readonly intercept: number
  readonly slope: number
}

/** Signals over size as they were read, with the response and the threshold. Open points lie beyond a limit. */
export function responseFigure(rows: readonly SignalRow[], { intercept, slope }: Straight, study: SignalStudy): Block {
  const largest = 1000 * Math.max(...rows.map(({ size_m }) => size_m))
  const highest = 1.05 * Math.max(study.threshold, ...rows.map(({ signal }) => signal))
  const lowest = Math.min(0, ...rows.map(({ signal }) => signal))
  const x: Scale = { from: 0, to: largest, start: box.x, end: box.x + box.width }
  const y: Scale = { from: lowest, to: highest, start: box.y + box.height, end: box.y }
  const smallest_m = Math.min(...rows.map(({ size_m }) => size_m))
  const curve = Array.from({ length: STEPS + 1 }, (_, i): Point => {
    const size_m = smallest_m + ((largest / 1000 - smallest_m) * i) / STEPS
    return [place(x, 1000 * size_m), place(y, responseAt(intercept + slope * placeOf(study, size_m), study))]
  }).filter(([, at]) => at >= box.y && at <= box.y + box.height)
  const level = place(y, study.threshold)
  const beyond = rows.filter(({ side }) => side !== 0).length
  const alt = `Signals of ${rows.length} rows over size, ${beyond} of them beyond a limit (open); the line is the response, the dashed level the threshold of ${study.threshold}.`
  return {
    ...{ block: 'figure', width: 'whole', alt, caption: 'Signals over size, with the response and the threshold' },
    svg: svg({
      ...{ width: 500, height: 300, description: alt },
      marks: [
        ...axes(
          box,
          { scale: x, ticks: ticks(0, largest, 8), label: 'size, mm' },
          { scale: y, ticks: ticks(lowest, highest, 5), label: 'signal' }
        ),
        line([box.x, level], [box.x + box.width, level], { tone: 'soft', width: 1, dash: '4 3' }),
        ...rows.map((row) => pointMark([place(x, 1000 * row.size_m), place(y, row.signal)], row.side)),
        ...(curve.length < 2
          ? []
          : [{ mark: 'path' as const, points: curve, stroke: { tone: 'accent' as const, width: 2 } }])
      ]
    })
  }
}

const responseAt = (level: number, { response }: SignalStudy): number => (response === 'ln signal' ? exp(level) : level)

const pointMark = (at: Point, side: SignalRow['side']): Mark =>
  side === 0
    ? { mark: 'circle', at, radius: 2.2, fill: 'ink' }
    : { mark: 'circle', at, radius: 2.4, stroke: { tone: 'ink', width: 1 } }
