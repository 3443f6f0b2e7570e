import { place, type Scale, type Tick, ticks } from '@trueloop/ground/picture'
import type { Surface } from './canvas.tsx'

/** The part of a drawing that its axes enclose, CSS pixels. */
export interface Frame {
  readonly x: number
  readonly y: number
  readonly width: number
  readonly height: number
}

export const font = (size = 13): string => `${size}px "Source Sans 3 VF", sans-serif`

export const scaleX = ({ x, width }: Frame, from: number, to: number): Scale => ({ from, to, start: x, end: x + width })
/** Values grow downward, as depth does. */
export const scaleDown = ({ y, height }: Frame, from: number, to: number): Scale => ({
  from,
  to,
  start: y,
  end: y + height
})
/** Values grow upward. */
export const scaleUp = ({ y, height }: Frame, from: number, to: number): Scale => ({
  from,
  to,
  start: y + height,
  end: y
})

export const evenTicks = (from: number, to: number, count: number): readonly Tick[] =>
  to - from > 0 && Number.isFinite(to - from) ? ticks(from, to, count) : []

export function axisBelow({ c, tones }: Surface, frame: Frame, { scale, at, label }: AxisDrawing): void {
  Object.assign(c, { font: font(), fillStyle: tones.quiet, strokeStyle: tones.line, lineWidth: 1 })
  Object.assign(c, { textAlign: 'center', textBaseline: 'top' })
  for (const { value, text } of at) {
    const x = place(scale, value)
    c.beginPath()
    c.moveTo(x, frame.y + frame.height)
    c.lineTo(x, frame.y + frame.height + 4)
    c.stroke()
    c.fillText(text, x, frame.y + frame.height + 6)
  }
  c.textAlign = 'right'
  c.fillText(label, frame.x + frame.width, frame.y + frame.height + 21)
}

export function axisLeft({ c, tones }: Surface, frame: Frame, { scale, at, label }: AxisDrawing): void {
  Object.assign(c, { font: font(), fillStyle: tones.quiet, strokeStyle: tones.line, lineWidth: 1 })
  Object.assign(c, { textAlign: 'right', textBaseline: 'middle' })
  for (const { value, text } of at) {
    const y = place(scale, value)
    c.beginPath()
    c.moveTo(frame.x - 4, y)
    c.lineTo(frame.x, y)
    c.stroke()
    c.fillText(text, frame.x - 7, y)
  }
  c.textAlign = 'left'
  c.textBaseline = 'bottom'
  c.fillText(label, frame.x - 40, frame.y - 6)
}

export interface AxisDrawing {
  readonly scale: Scale
  readonly at: readonly Tick[]
  readonly label: string
}

export function outline({ c, tones }: Surface, { x, y, width, height }: Frame): void {
  Object.assign(c, { strokeStyle: tones.line, lineWidth: 1 })
  c.strokeRect(x + 0.5, y + 0.5, width - 1, height - 1)
}

/** Draws within the frame alone. */
export function within({ c }: Surface, { x, y, width, height }: Frame, draw: () => void): void {
  c.save()
  c.beginPath()
  c.rect(x, y, width, height)
  c.clip()
  draw()
  c.restore()
}

/** Text with a rim of the ground, so that it is read on any map. */
export function rimmed({ c, tones }: Surface, text: string, x: number, y: number): void {
  Object.assign(c, { lineWidth: 4, strokeStyle: tones.sheet, lineJoin: 'round' })
  c.strokeText(text, x, y)
  c.fillText(text, x, y)
}
