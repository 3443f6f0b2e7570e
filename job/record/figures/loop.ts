import { axes, type Box, line, type Mark, type Point, place, type Scale, svg, ticks } from '@trueloop/ground/picture'
import type { Indication } from '../../examine/index.ts'
import type { Standardization } from '../../standardize/index.ts'
import { farthest, halfSize, reach } from './frame.ts'

const box: Box = { x: 54, y: 32, width: 232, height: 232 }

interface Plane {
  readonly x: Scale
  readonly y: Scale
}

/** The loop in the standardized plane, equal scales; the named notch's own loop pale behind it; lift-off toward −x. */
export function loopFigure(indication: Indication, standardization: Standardization | undefined): string {
  const { snippet } = indication
  const notch = standardization?.form ?? { x: [], y: [] }
  const most = 1.12 * reach(1e-9, snippet.x, snippet.y, notch.x, notch.y)
  const plane: Plane = {
    x: { from: -most, to: most, start: box.x, end: box.x + box.width },
    y: { from: -most, to: most, start: box.y + box.height, end: box.y }
  }
  const unit = standardization === undefined ? 'as recorded' : 'notch'
  const at = ticks(-most, most, 5)
  return svg({
    ...halfSize,
    description: `Loop of indication ${indication.id} in the plane; lift-off points to the left.`,
    marks: [
      ...axes(
        box,
        { scale: plane.x, ticks: at, label: `x, ${unit}` },
        { scale: plane.y, ticks: at, label: `y, ${unit}` }
      ),
      ...cross(plane),
      {
        mark: 'clip',
        box,
        marks: [...trace(plane, notch, 'notch'), ...trace(plane, snippet, 'own'), ...chord(plane, snippet)]
      },
      ...(standardization === undefined ? [] : legend(standardization))
    ]
  })
}

const cross = ({ x, y }: Plane): readonly Mark[] => {
  const [cx, cy] = [place(x, 0), place(y, 0)]
  const tip = box.x + 12
  return [
    line([cx, box.y], [cx, box.y + box.height], { tone: 'faint', width: 1 }),
    line([cx, cy], [box.x + box.width, cy], { tone: 'faint', width: 1 }),
    line([cx, cy], [tip, cy], { tone: 'soft', width: 1.2 }),
    {
      mark: 'path',
      points: [
        [tip - 6, cy],
        [tip + 3, cy - 4],
        [tip + 3, cy + 4]
      ],
      closed: true,
      fill: 'soft'
    },
    { mark: 'text', at: [tip - 4, cy - 8], text: 'lift-off', size: 11, tone: 'soft', rim: true }
  ]
}

interface Trace {
  readonly x: readonly number[]
  readonly y: readonly number[]
}

const pointsOf = (plane: Plane, { x, y }: Trace): readonly Point[] =>
  x.map((value, at) => [place(plane.x, value), place(plane.y, y[at] ?? 0)] as const)

function trace(plane: Plane, loop: Trace, whose: 'notch' | 'own'): readonly Mark[] {
  const points = pointsOf(plane, loop)
  const [first] = points
  if (first === undefined) return []
  if (whose === 'notch') return [{ mark: 'path', points, stroke: { tone: 'faint', width: 2.5 } }]
  return [
    { mark: 'path', points, stroke: { tone: 'accent', width: 2 } },
    { mark: 'circle', at: first, radius: 3, fill: 'accent' }
  ]
}

/** Between the points farthest apart: what the amplitude is the length of. */
function chord(plane: Plane, loop: Trace): readonly Mark[] {
  if (loop.x.length < 2) return []
  const points = pointsOf(plane, loop)
  const [one, other] = farthest(loop)
  return [line(points[one]!, points[other]!, { tone: 'ink', width: 1, dash: '3 3' })]
}

const legend = ({ named, application }: Standardization): readonly Mark[] => [
  line([box.x, 16], [box.x + 18, 16], { tone: 'faint', width: 2.5 }),
  {
    mark: 'text',
    at: [box.x + 24, 20],
    text: `${application === 'weld' ? 'slot' : 'notch'} ${named}`,
    size: 11,
    tone: 'soft'
  }
]
