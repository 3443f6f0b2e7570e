import { axes, type Box, line, type Mark, place, type Scale, svg, ticks } from '@trueloop/ground/picture'
import type { Loop, ZoneSettings } from '../../plan/index.ts'
import type { Block } from '../blocks.ts'
import { halfSize, reach } from '../figures/frame.ts'

const box: Box = { x: 54, y: 32, width: 232, height: 232 }

/** The loop that a scan across the flaw sought draws by the model; lift-off points to the left. */
export function predictedLoopFigure({ zones }: ZoneSettings, loop: Loop): Block {
  const where = `${zones.kind === 'corner' ? 'corners' : 'mid-bore'} in ${zones.metal}`
  const [xs, ys] = [loop.points.map(({ x }) => x), loop.points.map(({ y }) => y)]
  const most = 1.15 * reach(1e-9, xs, ys)
  const x: Scale = { from: -most, to: most, start: box.x, end: box.x + box.width }
  const y: Scale = { from: -most, to: most, start: box.y + box.height, end: box.y }
  const at = ticks(-most, most, 5)
  const alt = `Predicted loop of the flaw sought, ${where}: ${loop.peak_to_peak.toFixed(2)} of the alarm notch peak to peak, ${loop.angle_deg.toFixed(0)}° from lift-off, which points to the left.`
  const [left, middle] = [place(x, -most), place(y, 0)]
  const marks: readonly Mark[] = [
    ...axes(box, { scale: x, ticks: at, label: 'x, alarm notch' }, { scale: y, ticks: at, label: 'y, alarm notch' }),
    line([left, middle], [box.x + box.width, middle], { tone: 'faint', width: 1 }),
    { mark: 'text', at: [left + 8, middle - 6], text: '← lift-off', size: 11, tone: 'soft' },
    {
      mark: 'path',
      points: loop.points.map((point) => [place(x, point.x), place(y, point.y)] as const),
      stroke: { tone: 'accent', width: 2 }
    }
  ]
  return {
    ...{ block: 'figure', width: 'half', alt },
    caption: `Predicted loop, ${where}`,
    svg: svg({ ...halfSize, description: alt, marks })
  }
}
