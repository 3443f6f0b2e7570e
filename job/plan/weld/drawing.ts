import { type Drawing, line, type Mark, type Point } from '@trueloop/ground/picture'
import { stripsOf } from './lanes.ts'
import type { Lane, WeldPlan } from './schema.ts'

const WIDTH = 720
const HEIGHT = 300
const MARGIN = { left: 70, right: 14, top: 14, bottom: 30 }
const TICK = 7

/** The lanes over the zone of a weld, seen from above: along the weld to the right, side B downward. */
export function laneDrawing(plan: WeldPlan): Drawing {
  const strips = stripsOf(plan)
  const [top, bottom] = [strips[0]!.from_mm, strips.at(-1)!.to_mm]
  const x = (mm: number): number => MARGIN.left + (mm / plan.length_mm) * (WIDTH - MARGIN.left - MARGIN.right)
  const y = (mm: number): number => MARGIN.top + ((mm - top) / (bottom - top)) * (HEIGHT - MARGIN.top - MARGIN.bottom)
  const box = (from: number, to: number) => ({
    x: x(0),
    y: y(from),
    width: x(plan.length_mm) - x(0),
    height: y(to) - y(from)
  })
  const half = 0.5 * plan.cap_mm
  const cap: readonly Point[] = [
    [x(0), y(-half)],
    [x(plan.length_mm), y(-half)],
    [x(plan.length_mm), y(half)],
    [x(0), y(half)]
  ]
  const marks: readonly Mark[] = [
    { mark: 'path', points: cap, closed: true, fill: 'tint' },
    ...strips.flatMap(({ name, from_mm, to_mm }): readonly Mark[] =>
      from_mm === to_mm
        ? [line([x(0), y(from_mm)], [x(plan.length_mm), y(from_mm)], { tone: 'soft', width: 1 })]
        : [
            {
              mark: 'text',
              at: [MARGIN.left - 6, y(0.5 * (from_mm + to_mm)) + 4],
              text: name,
              size: 11,
              anchor: 'end',
              tone: 'soft'
            }
          ]
    ),
    ...plan.lanes.flatMap((lane, k) => laneMarks(lane, plan, { x, y, k })),
    ...plan.lanes.flatMap(({ from_mm, to_mm, out_of_reach = [] }) =>
      out_of_reach.map((one): Mark => {
        const whole = box(Math.min(from_mm, to_mm), Math.max(from_mm, to_mm))
        const height = Math.max(6, whole.height)
        const middle = whole.y + 0.5 * whole.height
        return {
          mark: 'hatch',
          box: { x: x(one.from_mm), y: middle - 0.5 * height, width: x(one.to_mm) - x(one.from_mm), height },
          tone: 'red'
        }
      })
    ),
    { mark: 'text', at: [x(0), HEIGHT - 8], text: `0 to ${plan.length_mm} mm along the weld`, size: 11, tone: 'soft' }
  ]
  const description = `Lanes over the zone of a ${plan.joint} weld of ${plan.length_mm} mm, seen from above`
  return { width: WIDTH, height: HEIGHT, description, marks }
}

interface Scales {
  readonly x: (mm: number) => number
  readonly y: (mm: number) => number
  /** number of the lane: names of neighbors stand beside one another */
  readonly k: number
}

/** A run along is an arrow along, with the probe's direction as a tick; a group across is drawn once, at its own place. */
function laneMarks(lane: Lane, plan: WeldPlan, { x, y, k }: Scales): readonly Mark[] {
  const stroke = { tone: 'accent', width: 1.4 } as const
  if (lane.run === 'across') {
    const at = x(0.9 * plan.length_mm)
    return [...arrow([at, y(lane.from_mm)], [at, y(lane.to_mm)], stroke), label(lane, [at + 5, y(lane.from_mm) + 12])]
  }
  const [from, to] = [lane.from_mm, lane.to_mm]
  const runs = from === to ? [from] : [from, to]
  return [
    ...runs.flatMap((mm) => arrow([x(0.04 * plan.length_mm), y(mm)], [x(0.86 * plan.length_mm), y(mm)], stroke)),
    label(lane, [x((0.05 + 0.2 * (k % 4)) * plan.length_mm), y(from) - 3])
  ]
}

const label = ({ id, probe_deg }: Lane, at: Point): Mark => ({
  mark: 'text',
  at,
  text: `${id}, probe at ${probe_deg}°`,
  size: 10,
  tone: 'ink',
  rim: true
})

function arrow(from: Point, to: Point, stroke: { readonly tone: 'accent'; readonly width: number }): readonly Mark[] {
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]]
  const size = Math.sqrt(dx * dx + dy * dy)
  if (size === 0) return []
  const [ux, uy] = [dx / size, dy / size]
  const back: Point = [to[0] - TICK * ux, to[1] - TICK * uy]
  const side = (way: number): Point => [back[0] - 0.5 * way * TICK * uy, back[1] + 0.5 * way * TICK * ux]
  return [line(from, to, stroke), line(side(1), to, stroke), line(side(-1), to, stroke)]
}
