import {
  axes,
  type Box,
  corners,
  filled,
  framed,
  line,
  type Mark,
  place,
  rasterHref,
  type Scale,
  svg,
  type Tick,
  ticks
} from '@trueloop/ground/picture'
import type { Drop, Examination, Indication } from '../../examine/index.ts'
import type { Place } from '../state.ts'
import { depthOf } from './frame.ts'

/**
 * The wall of a hole unrolled: angle across with a margin repeated at both sides, depth down. Where nothing was
 * examined the map is paper and hatched, so that it can't be read as quiet. Nothing where the depth or the picture is
 * not known.
 */
export function boreFigure(examination: Examination, place_: Place): string | undefined {
  const { picture } = examination
  const depth = depthOf(examination)
  if (picture === undefined || depth === undefined || picture.rows === 0) return undefined
  const grip = (place_.grip_mm ?? 0) * 1e-3
  const view = viewOf(depth, grip)
  return svg({
    width: 800,
    height: view.box.y * 2 + view.box.height + 38,
    description: descriptionOf(examination),
    marks: [
      { mark: 'clip', box: view.box, marks: [...map(examination, view), ...hatched(examination, view)] },
      ...joints(place_, view),
      ...seam(view),
      { mark: 'clip', box: view.box, marks: examination.indications.flatMap((one) => outline(one, view)) },
      ...axes(view.box, angles(examination, view), { scale: view.mm, ticks: view.ticks, label: 'depth, mm' }),
      ...legend(examination, view)
    ]
  })
}

const margin_deg = 30

interface View {
  readonly box: Box
  /** depth in m down the drawing */
  readonly depth: Scale
  readonly mm: Scale
  readonly ticks: readonly Tick[]
  /** angle in degrees across the drawing */
  readonly angle: Scale
  readonly depthAt: (revolution: number) => number
}

function viewOf(depthAt: (revolution: number) => number, grip: number): View {
  const box = { x: 54, y: 14, width: 540, height: 250 }
  const from = -0.06 * grip
  const to = 1.06 * grip
  const down = { start: box.y, end: box.y + box.height }
  return {
    box,
    depth: { from, to, ...down },
    mm: { from: from * 1000, to: to * 1000, ...down },
    ticks: ticks(0, grip * 1000, 6),
    angle: { from: -margin_deg, to: 360 + margin_deg, start: box.x, end: box.x + box.width },
    depthAt
  }
}

/** The cells, with the margin repeated from the other side so that nothing is cut at the seam. */
function map({ picture }: Examination, { angle, depth, depthAt }: View): readonly Mark[] {
  if (picture === undefined) return []
  const { rows, columns, rowFrom, rowStep, values } = picture
  const extra = Math.round((margin_deg / 360) * columns)
  const wide = columns + 2 * extra
  const cells = Float64Array.from({ length: rows * wide }, (_, at) => {
    const column = ((at % wide) - extra + columns) % columns
    return values[Math.floor(at / wide) * columns + column] ?? Number.NaN
  })
  const side = (extra / columns) * 360
  const x = place(angle, -side)
  const y = place(depth, depthAt(rowFrom))
  const box = {
    x,
    y,
    width: place(angle, 360 + side) - x,
    height: place(depth, depthAt(rowFrom + rows * rowStep)) - y
  }
  return [
    {
      mark: 'raster',
      box,
      href: rasterHref({ rows, columns: wide, values: cells, from: 0, to: 1, table: 'sequential' })
    }
  ]
}

const gap = (box: Box): readonly Mark[] => [
  filled(box, 'paper'),
  { mark: 'hatch', box, tone: 'soft', gap: 7 },
  framed(box, { tone: 'soft', width: 1 })
]

function hatched({ zones, dropped }: Examination, view: View): readonly Mark[] {
  const whole = zones.filter(({ state }) => state === 'not examined').map(({ z0_m, z1_m }) => band(view, z0_m, z1_m))
  const parts = dropped.filter(({ unit }) => unit === 'revolution').flatMap((drop) => dropBoxes(drop, view))
  return [...[...whole, ...parts].flatMap(gap), ...whole.flatMap(words)]
}

/** The word stands beside the shape where there is room for it. */
const words = ({ x, y, width, height }: Box): readonly Mark[] =>
  height < 14
    ? []
    : [
        {
          mark: 'text',
          at: [x + width / 2, y + height / 2 + 4],
          text: 'not examined',
          anchor: 'middle',
          bold: true,
          rim: true
        }
      ]

function band({ box, depth }: View, z0: number, z1: number): Box {
  const y = place(depth, z0)
  return { x: box.x, y, width: box.width, height: Math.max(2, place(depth, z1) - y) }
}

/** A gap of one turn or more is a band; a shorter one a box at its angles, at both sides of the seam. */
function dropBoxes({ from, to }: Drop, view: View): readonly Box[] {
  const top = view.depthAt(Math.floor(from))
  if (to - from >= 1) return [band(view, view.depthAt(from), view.depthAt(to))]
  const start = (from - Math.floor(from)) * 360
  return [-360, 0, 360].map((turn) => {
    const x = place(view.angle, start + turn)
    const width = place(view.angle, start + turn + (to - from) * 360) - x
    const y = place(view.depth, top)
    return { x, y, width, height: place(view.depth, view.depthAt(Math.floor(from) + 1)) - y }
  })
}

/** One turn lies between the two lines; what is beyond them is shown a second time. */
const seam = ({ box, angle }: View): readonly Mark[] =>
  [0, 360].flatMap((turn): readonly Mark[] => {
    const x = place(angle, turn)
    const [from, to] = [[x, box.y] as const, [x, box.y + box.height] as const]
    return [line(from, to, { tone: 'paper', width: 2.5 }), line(from, to, { tone: 'ink', width: 1, dash: '2 3' })]
  })

function joints({ interfaces_mm = [], layers = [], grip_mm = 0 }: Place, { box, mm }: View): readonly Mark[] {
  const edges = [0, ...interfaces_mm, grip_mm]
  const faces = ['entry face', ...interfaces_mm.map(() => 'joint'), 'exit face']
  const right = box.x + box.width
  const lines = edges.flatMap((edge, at): readonly Mark[] => {
    const y = place(mm, edge)
    return [
      line([box.x, y], [right + 8, y], { tone: 'paper', width: 3 }),
      line([box.x, y], [right + 8, y], { tone: 'ink', width: 1, ...(faces[at] === 'joint' ? { dash: '7 4' } : {}) }),
      { mark: 'text', at: [right + 12, y + 4], text: faces[at] ?? '', size: 11, tone: 'soft' }
    ]
  })
  const names = edges.slice(1).flatMap((edge, at): readonly Mark[] => {
    const middle = place(mm, (edge + (edges[at] ?? 0)) / 2)
    const metal = layers[at]
    return metal === undefined
      ? []
      : [{ mark: 'text', at: [right + 12, middle + 4], text: metal, size: 12, bold: true }]
  })
  return [...lines, ...names]
}

function outline(indication: Indication, { box: map, angle, depth, depthAt }: View): readonly Mark[] {
  if (indication.angle_rad === 'unknown') return []
  const center = (indication.angle_rad * 180) / Math.PI
  const halfWidth = Math.max(8, (0.5 * indication.snippet.x.length * indication.snippet.step * 180) / Math.PI)
  const z0 = indication.z0_m === 'unknown' ? depthAt(indication.ruler - 1) : indication.z0_m
  const z1 = indication.z1_m === 'unknown' ? depthAt(indication.ruler + 1) : indication.z1_m
  return [-360, 0, 360].flatMap((turn): readonly Mark[] => {
    const x = place(angle, center + turn - halfWidth)
    const y = place(depth, z0) - 5
    const box = { x, y, width: place(angle, center + turn + halfWidth) - x, height: place(depth, z1) + 5 - y }
    return [
      { mark: 'path', points: corners(box), closed: true, stroke: { tone: 'paper', width: 4 } },
      { mark: 'path', points: corners(box), closed: true, stroke: { tone: 'ink', width: 1.5 } },
      {
        mark: 'text',
        at: [box.x + box.width / 2, Math.max(box.y - 4, map.y + 12)],
        text: indication.id,
        anchor: 'middle',
        size: 11,
        bold: true,
        rim: true
      }
    ]
  })
}

function angles({ position }: Examination, { angle }: View) {
  const at = [0, 90, 180, 270, 360]
  const isClock = position.angle === 'clock'
  const texts = isClock ? ['12', '3', '6', '9', '12'] : ['0', '90', '180', '270', '360']
  const label = isClock ? 'clock position' : 'relative angle, deg'
  return { scale: angle, ticks: at.map((value, index) => ({ value, text: texts[index] ?? '' })), label }
}

/** The colors, from nothing to the named notch and above. */
function legend({ noise }: Examination, { box }: View): readonly Mark[] {
  const bar = { x: box.x + box.width + 148, y: box.y + 24, width: 14, height: box.height - 48 }
  const values = Float64Array.from({ length: 64 }, (_, at) => 1 - at / 63)
  const href = rasterHref({ rows: 64, columns: 1, values, from: 0, to: 1, table: 'sequential' })
  const scale = { from: 0, to: 1, start: bar.y + bar.height, end: bar.y }
  const step = (value: number, text: string): readonly Mark[] => [
    line([bar.x + bar.width, place(scale, value)], [bar.x + bar.width + 4, place(scale, value)], {
      tone: 'soft',
      width: 1
    }),
    { mark: 'text', at: [bar.x + bar.width + 7, place(scale, value) + 4], text, size: 11 }
  ]
  const alarm = noise !== undefined && noise.alarm > 0.12 && noise.alarm < 0.88 ? step(noise.alarm, 'alarm') : []
  return [
    { mark: 'raster', box: bar, href },
    framed(bar, { tone: 'soft', width: 1 }),
    ...step(0, '0'),
    ...alarm,
    ...step(1, '≥ 1'),
    { mark: 'text', at: [bar.x, bar.y - 10], text: 'notch', size: 11, tone: 'soft' }
  ]
}

function descriptionOf({ subject, indications, zones }: Examination): string {
  const missing = zones.filter(({ state }) => state === 'not examined').length
  const gaps = missing === 0 ? '' : ` ${missing} of ${zones.length} zones were not examined and are hatched.`
  const marked =
    indications.length === 0
      ? ' No indication is outlined.'
      : ` Outlined: ${indications.map(({ id }) => id).join(', ')}.`
  return `Wall of hole ${subject} unrolled, angle across, depth down.${marked}${gaps}`
}
