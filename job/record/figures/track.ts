import {
  axes,
  type Box,
  filled,
  framed,
  line,
  type Mark,
  place,
  type Scale,
  svg,
  ticks
} from '@trueloop/ground/picture'
import type { Examination, Indication, ZoneResult } from '../../examine/index.ts'

/** One track along a weld, drawn to scale from its datum: what was examined, what was found, and the coating under it. */

const width = 800
const strip: Box = { x: 54, y: 26, width: 730, height: 44 }
const under: Box = { x: 54, y: 84, width: 730, height: 60 }

/** Where a stretch lies on the drawing: shares of its width, for what a page lays over it. */
export function placeOnTrack(
  { from_mm, to_mm }: { readonly from_mm: number; readonly to_mm: number },
  length_mm: number
) {
  const at = (mm: number) => (strip.x + (strip.width * mm) / length_mm) / width
  return { from: at(from_mm), to: at(to_mm) }
}

export function trackFigure(examination: Examination, length_mm: number): string {
  const { zones, indications, coating, subject } = examination
  const x: Scale = { from: 0, to: length_mm, start: strip.x, end: strip.x + strip.width }
  const points = coating?.apparent?.points ?? []
  const hasCoating = points.length > 1
  const most = Math.max(0.5, ...(coating?.shims_mm ?? []), ...points.map(({ mean_mm }) => mean_mm)) * 1.1
  const y: Scale = { from: 0, to: most, start: under.y + under.height, end: under.y }
  const along = { scale: x, ticks: ticks(0, length_mm, 10), label: 'position from the datum, mm' }
  return svg({
    width,
    height: hasCoating ? 180 : 106,
    description: `Track ${subject}: ${indications.length} indications; ${zones.filter(isOpen).length} stretches not examined.`,
    marks: [
      filled(strip, 'tint'),
      ...zones.filter(isOpen).flatMap((zone) => gap(x, zone)),
      framed(strip, { tone: 'ink', width: 1 }),
      ...indications.flatMap((one) => found(x, one)),
      ...(hasCoating ? [...curve(points, x, y), ...coatingAxes(y, along, most)] : lone(along))
    ]
  })
}

const isOpen = ({ state }: ZoneResult): boolean => state === 'not examined'

function gap(x: Scale, { z0_m, z1_m }: ZoneResult): readonly Mark[] {
  const [from, to] = [place(x, 1e3 * z0_m), place(x, 1e3 * z1_m)]
  const box: Box = { x: from, y: strip.y, width: Math.max(1, to - from), height: strip.height }
  const words: readonly Mark[] =
    box.width < 70
      ? []
      : [
          {
            ...{ mark: 'text', at: [from + box.width / 2, strip.y + strip.height / 2 + 4], text: 'not examined' },
            ...{ anchor: 'middle', size: 11, tone: 'amber', rim: true }
          }
        ]
  return [
    { mark: 'hatch', box, tone: 'amber', gap: 6 },
    framed(box, { tone: 'amber', width: 1, dash: '4 3' }),
    ...words
  ]
}

/** Relevant ones are filled, undecided ones half, the others outlined; the number stands above. */
function found(x: Scale, one: Indication): readonly Mark[] {
  const at = 1e3 * (typeof one.z_m === 'number' ? one.z_m : 0)
  const ends =
    typeof one.z0_m === 'number' && typeof one.z1_m === 'number' ? [1e3 * one.z0_m, 1e3 * one.z1_m] : [at, at]
  const from = place(x, ends[0] ?? at)
  const wide = Math.max(4, place(x, ends[1] ?? at) - from)
  const box: Box = { x: from, y: strip.y + 10, width: wide, height: strip.height - 20 }
  const number = one.id.split('/').at(-1) ?? one.id
  return [
    ...(one.class === 'relevant' ? [filled(box, 'ink')] : []),
    ...(one.class === 'undecided' ? [filled({ ...box, height: box.height / 2 }, 'ink')] : []),
    framed(box, { tone: 'ink', width: 1.5 }),
    line([from + wide / 2, strip.y - 2], [from + wide / 2, box.y], { tone: 'soft', width: 1 }),
    {
      mark: 'text',
      at: [from + wide / 2, strip.y - 6],
      text: number,
      anchor: 'middle',
      size: 12,
      bold: true,
      rim: true
    }
  ]
}

type Points = NonNullable<NonNullable<Examination['coating']>['apparent']>['points']

/** Where nothing was told between two points, the line is broken. */
function curve(points: Points, x: Scale, y: Scale): readonly Mark[] {
  const [first, second] = points
  const usual = first === undefined || second === undefined ? 0 : Math.abs(second.at_m - first.at_m)
  const parts: [number, number][][] = []
  for (const [k, { at_m, mean_mm }] of points.entries()) {
    const before = points[k - 1]
    if (before === undefined || Math.abs(at_m - before.at_m) > 1.5 * usual + 1e-9) parts.push([])
    parts.at(-1)?.push([place(x, 1e3 * at_m), place(y, mean_mm)])
  }
  return parts.map((part) => ({ mark: 'path', points: part, stroke: { tone: 'accent', width: 1.5 } }))
}

type Along = Parameters<typeof axes>[1]

const coatingAxes = (y: Scale, along: Along, most: number): readonly Mark[] =>
  axes(under, along, { scale: y, ticks: ticks(0, most, 3), label: 'coating, mm' })

const lone = (along: Along): readonly Mark[] =>
  axes(strip, along, { scale: { from: 0, to: 1, start: 0, end: 0 }, ticks: [], label: '' })
