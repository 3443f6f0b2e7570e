import { place, type Scale } from '@trueloop/ground/picture'
import { useMemo } from 'react'
import { axisBelow, axisLeft, type Frame, font, outline, rimmed, within } from '../plot/axes.ts'
import { Canvas, type Draw, type Surface } from '../plot/canvas.tsx'
import type { Writing } from '../units/figures.ts'
import type { StatedWall } from '../wall/signal-states.ts'
import { farthest, type Trace } from '../wall/wall.ts'
import { swingReach, swingTicks } from './swing.ts'

/** The named notch's own loop, in the units of what is shown. */
export interface Notch {
  readonly named: string
  readonly x: ArrayLike<number>
  readonly y: ArrayLike<number>
}

interface LoopProps {
  readonly trace: Trace
  readonly other: Trace | undefined
  readonly notch: Notch | undefined
  readonly stated: Omit<StatedWall, 'wall'>
  readonly writing: Writing
}

const none: Trace = { x: new Float32Array(0), y: new Float32Array(0) }

/** The loop of the chosen place in the plane, equal scales; the notch's own loop pale behind it; lift-off to the left. */
export function Loop({ trace, other = none, notch, stated, writing }: LoopProps) {
  const draw = useMemo((): Draw => {
    const { unit, scale, liftOff } = stated
    const isTurned = unit === 'notch'
    const form = notch ?? none
    return (s) => {
      const side = Math.max(1, Math.min(s.width - 64, s.height - 60))
      const frame: Frame = { x: 52, y: 20, width: side, height: side }
      const reach = swingReach(scale, trace, other, form)
      const across: Scale = { from: -reach, to: reach, start: frame.x, end: frame.x + side }
      const up: Scale = { from: -reach, to: reach, start: frame.y + side, end: frame.y }
      const to = (x: number, y: number) => [place(across, x), place(up, y)] as const
      s.c.fillStyle = s.tones.sheet
      s.c.fillRect(frame.x, frame.y, side, side)
      within(s, frame, () => {
        cross(s, frame, to)
        arrow(s, frame, liftOff)
        path(s, { loop: form, to, tone: s.tones.line, width: 5 })
        path(s, { loop: other, to, tone: s.tones.quiet, width: 1.5, dash: [6, 4] })
        path(s, { loop: trace, to, tone: s.tones.accent, width: 2.2 })
        chord(s, trace, to)
      })
      outline(s, frame)
      axisBelow(s, frame, {
        scale: across,
        at: swingTicks(writing, reach, unit),
        label: isTurned ? 'along lift-off' : 'x'
      })
      axisLeft(s, frame, { scale: up, at: swingTicks(writing, reach, unit), label: isTurned ? 'across lift-off' : 'y' })
      if (notch !== undefined) legend(s, frame, notch.named)
    }
  }, [trace, other, notch, stated, writing])
  return (
    <Canvas
      draw={draw}
      className="loop"
      label="Loop of the chosen place; the named notch’s own loop behind it; lift-off points to the left."
    />
  )
}

type To = (x: number, y: number) => readonly [number, number]

function cross(s: Surface, frame: Frame, to: To): void {
  const { c, tones } = s
  const [x, y] = to(0, 0)
  Object.assign(c, { strokeStyle: tones.line, lineWidth: 1 })
  c.beginPath()
  c.moveTo(x, frame.y)
  c.lineTo(x, frame.y + frame.height)
  c.moveTo(frame.x, y)
  c.lineTo(frame.x + frame.width, y)
  c.stroke()
}

/** From the middle to the edge where lift-off goes. */
function arrow(s: Surface, { x, y, width, height }: Frame, { x: along, y: up }: StatedWall['liftOff']): void {
  const { c, tones } = s
  const [middleX, middleY] = [x + width / 2, y + height / 2]
  const length = (width / 2 - 6) / Math.max(Math.abs(along), Math.abs(up))
  const [tipX, tipY] = [middleX + length * along, middleY - length * up]
  Object.assign(c, { fillStyle: tones.quiet, strokeStyle: tones.quiet, lineWidth: 1 })
  c.beginPath()
  c.moveTo(middleX, middleY)
  c.lineTo(tipX, tipY)
  c.stroke()
  c.beginPath()
  c.moveTo(tipX, tipY)
  c.lineTo(tipX - 10 * along - 5 * up, tipY + 10 * up - 5 * along)
  c.lineTo(tipX - 10 * along + 5 * up, tipY + 10 * up + 5 * along)
  c.fill()
  Object.assign(c, { font: font(13), textAlign: along < 0 ? 'left' : 'right', textBaseline: 'bottom' })
  rimmed(s, 'lift-off', tipX, tipY - 7)
}

interface Path {
  readonly loop: { readonly x: ArrayLike<number>; readonly y: ArrayLike<number> }
  readonly to: To
  readonly tone: string
  readonly width: number
  readonly dash?: number[]
}

function path({ c }: Surface, { loop, to, tone, width, dash = [] }: Path): void {
  Object.assign(c, { strokeStyle: tone, lineWidth: width, lineJoin: 'round', lineCap: 'round' })
  c.setLineDash(dash)
  c.beginPath()
  for (let i = 0; i < loop.x.length; i++) {
    const [x, y] = to(loop.x[i]!, loop.y[i]!)
    if (i === 0) c.moveTo(x, y)
    else c.lineTo(x, y)
  }
  c.stroke()
  c.setLineDash([])
}

/** From peak to peak: what the amplitude is the length of. */
function chord({ c, tones }: Surface, trace: Trace, to: To): void {
  if (trace.x.length < 2) return
  const { from, to: end } = farthest(trace)
  Object.assign(c, { strokeStyle: tones.ink, lineWidth: 1 })
  c.setLineDash([3, 3])
  c.beginPath()
  c.moveTo(...to(trace.x[from]!, trace.y[from]!))
  c.lineTo(...to(trace.x[end]!, trace.y[end]!))
  c.stroke()
  c.setLineDash([])
}

function legend(s: Surface, frame: Frame, named: string): void {
  const { c, tones } = s
  Object.assign(c, { strokeStyle: tones.line, lineWidth: 5, lineCap: 'round' })
  c.beginPath()
  c.moveTo(frame.x + 10, frame.y + frame.height - 14)
  c.lineTo(frame.x + 30, frame.y + frame.height - 14)
  c.stroke()
  Object.assign(c, { font: font(13), fillStyle: tones.quiet, textAlign: 'left', textBaseline: 'middle' })
  rimmed(s, `notch ${named}`, frame.x + 38, frame.y + frame.height - 14)
}
