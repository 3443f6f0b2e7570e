import { place } from '@trueloop/ground/picture'
import { useMemo } from 'react'
import { axisLeft, type Frame, outline, scaleUp, scaleX, within } from '../plot/axes.ts'
import { Canvas, type Draw, type Surface } from '../plot/canvas.tsx'
import type { Writing } from '../units/figures.ts'
import { type DepthAxis, rulerOf, type Spot } from '../wall/depth-axis.ts'
import type { StatedWall } from '../wall/signal-states.ts'
import { elementAt, type WallSignal } from '../wall/wall.ts'
import { gutter } from './map-draw.ts'
import { swingReach, swingTicks } from './swing.ts'
import type { View } from './view.ts'

/** A signal and where its rows lie; the second is compared with the first. */
export interface Shown extends StatedWall {
  readonly axis: DepthAxis
}

export interface ProfileProps {
  readonly shown: Shown
  readonly other: Shown | undefined
  readonly spot: Spot
  readonly view: View
  readonly writing: Writing
}

interface Line {
  /** along the axis of the map */
  readonly at: readonly number[]
  readonly x: readonly number[]
  readonly y: readonly number[]
}

const nothing: Line = { at: [], x: [], y: [] }

/** All around at one depth: element by element as the map has it. */
function around({ wall, axis }: Shown, { depth }: Spot, { turnFrom, turnTo }: View): Line {
  const first = Math.floor(turnFrom * wall.columns)
  const count = Math.ceil(turnTo * wall.columns) - first + 1
  const at = Array.from({ length: count }, (_, i) => (first + i) / wall.columns)
  const elements = at.map((turn) => elementAt(wall, rulerOf(axis, { turn, depth })))
  return { at, ...values(wall, elements) }
}

const values = ({ x, y }: WallSignal, elements: readonly (number | undefined)[]) => ({
  x: elements.map((at) => (at === undefined ? Number.NaN : x[at]!)),
  y: elements.map((at) => (at === undefined ? Number.NaN : y[at]!))
})

/** The profile along the angle, under the map and in step with it. */
export function AroundProfile({ shown, other, spot, view, writing }: ProfileProps) {
  const draw = useMemo((): Draw => {
    const own = around(shown, spot, view)
    const beside = other === undefined ? nothing : around(other, spot, view)
    return (s) => {
      const frame: Frame = {
        ...{ x: gutter.left + gutter.layers, y: 18, width: s.width - gutter.left - gutter.layers - gutter.right },
        height: Math.max(1, s.height - 26)
      }
      const reach = swingReach(shown.scale, own, beside)
      const along = scaleX(frame, view.turnFrom, view.turnTo)
      const swing = scaleUp(frame, -reach, reach)
      ground(s, frame, place(swing, 0))
      within(s, frame, () => {
        lines(s, { own, beside, point: (at, value) => [place(along, at), place(swing, value)] })
        for (let turn = Math.floor(view.turnFrom); turn <= view.turnTo; turn++) {
          cursor(s, {
            from: [place(along, spot.turn + turn), frame.y],
            to: [place(along, spot.turn + turn), frame.y + frame.height]
          })
        }
      })
      outline(s, frame)
      axisLeft(s, frame, {
        scale: swing,
        at: swingTicks(writing, reach, shown.unit),
        label: shown.unit === 'notch' ? 'across lift-off (line), along it (thin)' : 'y (line), x (thin)'
      })
    }
  }, [shown, other, spot, view, writing])
  return <Canvas draw={draw} className="profile" label="Profile along the angle at the chosen depth." />
}

function ground({ c, tones }: Surface, frame: Frame, zero: number): void {
  c.fillStyle = tones.sheet
  c.fillRect(frame.x, frame.y, frame.width, frame.height)
  Object.assign(c, { strokeStyle: tones.line, lineWidth: 1 })
  c.beginPath()
  c.moveTo(frame.x, zero)
  c.lineTo(frame.x + frame.width, zero)
  c.stroke()
}

interface Lines {
  readonly own: Line
  readonly beside: Line
  readonly point: (at: number, value: number) => readonly [number, number]
}

/** What is compared is dashed; the part along lift-off is thin. */
function lines(s: Surface, { own, beside, point }: Lines): void {
  const { tones } = s
  stroke(s, { line: beside, of: 'y', point, tone: tones.quiet, width: 1.5, dash: [6, 4] })
  stroke(s, { line: own, of: 'x', point, tone: tones.quiet, width: 1, dash: [] })
  stroke(s, { line: own, of: 'y', point, tone: tones.ink, width: 1.8, dash: [] })
}

interface Stroke {
  readonly line: Line
  readonly of: 'x' | 'y'
  readonly point: Lines['point']
  readonly tone: string
  readonly width: number
  readonly dash: number[]
}

function stroke({ c }: Surface, { line, of, point, tone, width, dash }: Stroke): void {
  Object.assign(c, { strokeStyle: tone, lineWidth: width, lineJoin: 'round' })
  c.setLineDash(dash)
  c.beginPath()
  let isOn = false
  for (const [i, at] of line.at.entries()) {
    const value = line[of][i]!
    if (Number.isNaN(value)) {
      isOn = false
      continue
    }
    const [px, py] = point(at, value)
    if (isOn) c.lineTo(px, py)
    else c.moveTo(px, py)
    isOn = true
  }
  c.stroke()
  c.setLineDash([])
}

interface Cursor {
  readonly from: readonly [number, number]
  readonly to: readonly [number, number]
}

function cursor({ c, tones }: Surface, { from, to }: Cursor): void {
  Object.assign(c, { strokeStyle: tones.accent, lineWidth: 1.5 })
  c.beginPath()
  c.moveTo(...from)
  c.lineTo(...to)
  c.stroke()
}
