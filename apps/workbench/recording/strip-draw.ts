import { place, type Scale } from '@trueloop/ground/picture'
import { axisBelow, axisLeft, evenTicks, type Frame, outline, scaleUp, scaleX, within } from '../plot/axes.ts'
import type { Draw, Surface } from '../plot/canvas.tsx'
import { columnsOf, finest, levelFor } from './pyramid.ts'
import type { Recording } from './use-recording.ts'
import type { Samples } from './worker.ts'

/** The stretch of a recording that is shown, samples. */
export interface Stretch {
  readonly from: number
  readonly to: number
}

export interface StripDrawing {
  readonly recording: Recording
  readonly stretch: Stretch
  /** the samples themselves, where they are at hand */
  readonly window: Samples | undefined
  /** least and most of the whole recording, both channels */
  readonly reach: readonly [number, number]
}

export const stripFrame = (width: number, height: number): Frame => ({
  x: 60,
  y: 22,
  width: Math.max(1, width - 74),
  height: Math.max(1, height - 22 - 44)
})

/** Both channels over time, one above the other; each column of the screen from its least to its most. */
export const drawStrip =
  ({ recording, stretch, window, reach }: StripDrawing): Draw =>
  (s) => {
    const whole = stripFrame(s.width, s.height)
    const half = (whole.height - 26) / 2
    const upper: Frame = { ...whole, height: half }
    const lower: Frame = { ...whole, y: whole.y + half + 26, height: half }
    for (const [frame, channel] of [
      [upper, 'x'],
      [lower, 'y']
    ] as const) {
      const up = scaleUp(frame, reach[0], reach[1])
      s.c.fillStyle = s.tones.sheet
      s.c.fillRect(frame.x, frame.y, frame.width, frame.height)
      within(s, frame, () => bars(s, { frame, up, columns: columns(frame, { recording, stretch, window, channel }) }))
      outline(s, frame)
      axisLeft(s, frame, { scale: up, at: evenTicks(reach[0], reach[1], 4), label: `${channel}, as recorded` })
    }
    const { rate_Hz } = recording
    const time = scaleX(lower, stretch.from / rate_Hz, stretch.to / rate_Hz)
    axisBelow(s, lower, { scale: time, at: evenTicks(time.from, time.to, 8), label: 'time, s' })
  }

interface Columns extends Omit<StripDrawing, 'reach'> {
  readonly channel: 'x' | 'y'
}

function columns(frame: Frame, { recording, stretch, window, channel }: Columns): Float32Array {
  const count = Math.round(frame.width)
  const each = (stretch.to - stretch.from) / count
  const isNear = each < finest && window !== undefined && window.from <= stretch.from + 1
  if (isNear && window.from + window.x.length >= Math.min(stretch.to, recording.samples) - 1)
    return fromSamples(window, channel, { ...stretch, columns: count })
  const level = levelFor(recording.levels, each)
  return columnsOf(level[channel], level.bin, { ...stretch, columns: count })
}

/** Joined from column to column, so that a line stays a line however near. */
function fromSamples(window: Samples, channel: 'x' | 'y', { from, to, columns: count }: Stretch & { columns: number }) {
  const values = window[channel]
  const out = new Float32Array(2 * count).fill(Number.NaN)
  const each = (to - from) / count
  for (let column = 0; column < count; column++) {
    const first = Math.max(0, Math.floor(from + column * each - window.from))
    const last = Math.min(values.length - 1, Math.ceil(from + (column + 1) * each - window.from))
    let [least, most] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY]
    for (let at = first; at <= last; at++) {
      if (values[at]! < least) least = values[at]!
      if (values[at]! > most) most = values[at]!
    }
    if (most >= least) out.set([least, most], 2 * column)
  }
  return out
}

interface Bars {
  readonly frame: Frame
  readonly up: Scale
  readonly columns: Float32Array
}

/** Painted here, then laid onto the page as one picture: thousands of rectangles cost more than their pixels. */
const scratch = new OffscreenCanvas(1, 1)
/** The same pixels every time: a new picture a frame would be swept up a frame later. */
let image = new ImageData(1, 1)

function bars({ c, tones }: Surface, { frame, up, columns: all }: Bars): void {
  const [width, height] = [all.length / 2, Math.ceil(frame.height)]
  if (scratch.width !== width) scratch.width = width
  if (scratch.height !== height) scratch.height = height
  const paper = scratch.getContext('2d')
  if (paper === null) return
  if (image.width !== width || image.height !== height) image = new ImageData(width, height)
  const pixels = new Uint32Array(image.data.buffer)
  pixels.fill(0)
  fillColumns(pixels, { width, height, all, ink: inkOf(tones.ink), up, top: frame.y })
  paper.putImageData(image, 0, 0)
  c.drawImage(scratch, frame.x, frame.y)
}

interface Filling {
  readonly width: number
  readonly height: number
  readonly all: Float32Array
  readonly ink: number
  readonly up: Scale
  /** of the frame, CSS pixels */
  readonly top: number
}

/** Each column from its least to its most, on whole pixels, one at least. */
function fillColumns(pixels: Uint32Array, { width, height, all, ink, up, top }: Filling): void {
  for (let column = 0; column < width; column++) {
    const least = all[2 * column]!
    if (Number.isNaN(least)) continue
    const from = Math.floor(place(up, all[2 * column + 1]!) - top)
    const to = Math.max(from + 1, Math.ceil(place(up, least) - top))
    for (let row = Math.max(0, from); row < Math.min(height, to); row++) pixels[row * width + column] = ink
  }
}

/** A tone such as #1b1c22 as the bytes of a pixel lie in memory: red first. */
function inkOf(hex: string): number {
  const bytes = Uint8Array.from([1, 3, 5], (at) => Number.parseInt(hex.slice(at, at + 2), 16))
  return new Uint32Array(Uint8Array.of(...bytes, 255).buffer)[0]!
}
