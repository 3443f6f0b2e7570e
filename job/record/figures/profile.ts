import { axes, line, type Mark, type Point, place, type Scale, type Stroke, svg, ticks } from '@trueloop/ground/picture'
import type { Indication } from '../../examine/index.ts'
import { halfFrame as box, halfSize, reach } from './frame.ts'

/** Both parts of the signal against angle (or position, or time) at the place of the peak. */
export function profileFigure(indication: Indication, unit: 'notch' | 'recorded'): string {
  const { snippet, id } = indication
  const along = rulerOf(indication)
  const most = 1.15 * reach(1e-9, snippet.x, snippet.y)
  const last = snippet.x.length - 1
  const x: Scale = { from: along.at(0), to: along.at(last), start: box.x, end: box.x + box.width }
  const y: Scale = { from: -most, to: most, start: box.y + box.height, end: box.y }
  const curve = (values: readonly number[]): readonly Point[] =>
    values.map((value, at) => [place(x, along.at(at)), place(y, value)] as const)
  const zero = place(y, 0)
  return svg({
    ...halfSize,
    description: `Signal of indication ${id} against ${along.label}: across lift-off dark, along lift-off pale.`,
    marks: [
      ...axes(
        box,
        { scale: x, ticks: ticks(x.from, x.to, 5), label: along.label },
        {
          scale: y,
          ticks: ticks(-most, most, 5),
          label: unit === 'notch' ? 'amplitude, notch' : 'amplitude, as recorded'
        }
      ),
      line([box.x, zero], [box.x + box.width, zero], { tone: 'faint', width: 1 }),
      { mark: 'path', points: curve(snippet.x), stroke: { tone: 'faint', width: 2 } },
      { mark: 'path', points: curve(snippet.y), stroke: { tone: 'accent', width: 2 } },
      ...legend()
    ]
  })
}

interface Ruler {
  readonly at: (index: number) => number
  readonly label: string
}

const degreesPerRadian = 180 / Math.PI

function rulerOf({ snippet, angle_rad }: Indication): Ruler {
  const { step, stepUnit, x } = snippet
  const middle = (x.length - 1) / 2
  if (stepUnit === 'rad') {
    const center = angle_rad === 'unknown' ? 0 : angle_rad
    const label = angle_rad === 'unknown' ? 'angle from the peak, deg' : 'angle, deg'
    return { at: (index) => (center + (index - middle) * step) * degreesPerRadian, label }
  }
  const label = stepUnit === 'm' ? 'position from the peak, mm' : 'time from the peak, ms'
  return { at: (index) => (index - middle) * step * 1000, label }
}

const legend = (): readonly Mark[] => [
  ...key(0, 'y, across lift-off', { tone: 'accent', width: 2 }),
  ...key(150, 'x, along lift-off', { tone: 'faint', width: 2 })
]

const key = (left: number, text: string, stroke: Stroke): readonly Mark[] => [
  line([box.x + left, 16], [box.x + left + 18, 16], stroke),
  { mark: 'text', at: [box.x + left + 24, 20], text, size: 11, tone: 'soft' }
]
