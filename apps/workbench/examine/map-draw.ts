import { place, type Scale } from '@trueloop/ground/picture'
import {
  axisBelow,
  axisLeft,
  evenTicks,
  type Frame,
  font,
  outline,
  rimmed,
  scaleDown,
  scaleX,
  within
} from '../plot/axes.ts'
import type { Draw, Surface } from '../plot/canvas.tsx'
import { clockText, lengthFigure, lengthUnit } from '../units/figures.ts'
import type { Spot } from '../wall/depth-axis.ts'
import type { WallSignal } from '../wall/wall.ts'
import { classMark } from './class-mark.ts'
import type { Gap, Layer, MarkOnWall, Scene } from './map-scene.ts'
import type { View } from './view.ts'

/** Room for the axes and for the layers beside the map, CSS pixels. */
export const gutter = { left: 60, right: 10, top: 22, bottom: 40, layers: 22 }

export const mapFrame = (width: number, height: number): Frame => ({
  x: gutter.left + gutter.layers,
  y: gutter.top,
  width: Math.max(1, width - gutter.left - gutter.layers - gutter.right),
  height: Math.max(1, height - gutter.top - gutter.bottom)
})

export interface MapDrawing {
  readonly scene: Scene
  readonly wall: WallSignal
  readonly image: CanvasImageSource
  readonly view: View
  readonly spot: Spot | undefined
  /** id of the chosen indication */
  readonly chosen: string | undefined
}

interface Plane extends MapDrawing {
  readonly s: Surface
  readonly frame: Frame
  readonly across: Scale
  readonly down: Scale
}

export const drawMap =
  (drawing: MapDrawing): Draw =>
  (s) => {
    const { view, scene } = drawing
    const frame = mapFrame(s.width, s.height)
    const plane: Plane = {
      ...drawing,
      ...{
        s,
        frame,
        across: scaleX(frame, view.turnFrom, view.turnTo),
        down: scaleDown(frame, view.depthFrom, view.depthTo)
      }
    }
    s.c.fillStyle = s.tones.sheet
    s.c.fillRect(frame.x, frame.y, frame.width, frame.height)
    within(s, frame, () => {
      drawWall(plane)
      drawZones(plane)
      drawJoints(plane)
      for (const gap of scene.gaps) drawGap(plane, gap)
      for (const mark of scene.marks) drawMark(plane, mark)
      drawSeam(plane)
      drawSpot(plane)
    })
    outline(s, frame)
    drawLayers(plane)
    drawAxes(plane)
  }

/** The image repeats every turn; its row k is the whole revolution `rowFrom + k`. */
function drawWall({ s: { c }, scene, wall, image, view, across, down }: Plane): void {
  const { axis } = scene
  const top = place(down, axis.valueAt(wall.rowFrom - 0.5))
  const bottom = place(down, axis.valueAt(wall.rowFrom + wall.rows + 0.5))
  c.imageSmoothingEnabled = true
  for (let turn = Math.floor(view.turnFrom); turn < view.turnTo; turn++) {
    const left = place(across, turn - 0.5 / wall.columns)
    const right = place(across, turn + 1 - 0.5 / wall.columns)
    c.drawImage(image, left, top, right - left, bottom - top)
  }
}

/** Faces and interfaces of the stack, as lines across the wall. */
function drawJoints({ s: { c, tones }, scene, frame, down }: Plane): void {
  const faces = scene.layers.flatMap(({ from, to }) => [from, to])
  for (const at of new Set(faces)) {
    const y = Math.round(place(down, at)) + 0.5
    for (const [stroke, dash, width] of [
      [tones.sheet, [], 3],
      [tones.ink, [7, 5], 1]
    ] as const) {
      c.setLineDash(dash)
      Object.assign(c, { strokeStyle: stroke, lineWidth: width })
      c.beginPath()
      c.moveTo(frame.x, y)
      c.lineTo(frame.x + frame.width, y)
      c.stroke()
    }
  }
  c.setLineDash([])
}

/** Bounds of the zones of coverage, dotted; named at the edge where there is room. */
function drawZones({ s, scene, frame, down }: Plane): void {
  const { c, tones } = s
  Object.assign(c, { strokeStyle: tones.quiet, lineWidth: 1, font: font(12), fillStyle: tones.quiet })
  Object.assign(c, { textAlign: 'left', textBaseline: 'middle' })
  for (const { from, to, name } of scene.zones) {
    const [top, bottom] = [place(down, from), place(down, to)]
    c.setLineDash([1, 5])
    c.beginPath()
    c.moveTo(frame.x, Math.round(bottom) + 0.5)
    c.lineTo(frame.x + frame.width, Math.round(bottom) + 0.5)
    c.stroke()
    c.setLineDash([])
    if (bottom - top >= 15) rimmed(s, name, frame.x + 5, (top + bottom) / 2)
    Object.assign(c, { strokeStyle: tones.quiet, lineWidth: 1 })
  }
}

/** Hatched, with its word: what was not examined may never look like what is sound. */
function drawGap({ s, frame, down }: Plane, { from, to, word }: Gap): void {
  const { c, tones } = s
  const [top, bottom] = [Math.max(frame.y, place(down, from)), Math.min(frame.y + frame.height, place(down, to))]
  if (bottom - top < 1) return
  const area: Frame = { x: frame.x, y: top, width: frame.width, height: bottom - top }
  c.save()
  c.globalAlpha = 0.45
  c.fillStyle = tones.sheet
  c.fillRect(area.x, area.y, area.width, area.height)
  c.restore()
  within(s, area, () => {
    Object.assign(c, { strokeStyle: tones.amber, lineWidth: 1.5 })
    c.beginPath()
    for (let x = area.x - area.height; x < area.x + area.width; x += 12) {
      c.moveTo(x, bottom)
      c.lineTo(x + area.height, top)
    }
    c.stroke()
    if (area.height < 16) return
    Object.assign(c, { font: font(14), fillStyle: tones.amber, textAlign: 'center', textBaseline: 'middle' })
    rimmed(s, word, area.x + area.width / 2, (top + bottom) / 2)
  })
}

/** Each indication outlined on every copy of its place; the chosen one in the accent. */
function drawMark({ s, view, across, down, chosen }: Plane, mark: MarkOnWall): void {
  const { c, tones } = s
  const isChosen = mark.id === chosen
  const half = Math.max(14, place(across, mark.half) - place(across, 0))
  const [top, bottom] = [place(down, mark.from), place(down, mark.to)]
  const height = Math.max(22, bottom - top + 12)
  for (let turn = Math.floor(view.turnFrom); turn <= view.turnTo; turn++) {
    const x = place(across, mark.turn + turn)
    const y = (top + bottom) / 2
    for (const [stroke, width] of [
      [tones.sheet, isChosen ? 6 : 4.5],
      [isChosen ? tones.accent : tones.ink, isChosen ? 3 : 2]
    ] as const) {
      Object.assign(c, { strokeStyle: stroke, lineWidth: width })
      c.beginPath()
      c.roundRect(x - half, y - height / 2, 2 * half, height, 6)
      c.stroke()
    }
    classMark(s, { name: mark.class, x: x + half + 13, y: y - height / 2 + 8, decided: mark.decided })
    Object.assign(c, { font: font(14), fillStyle: tones.ink, textAlign: 'left', textBaseline: 'middle' })
    rimmed(s, mark.id.split('/').at(-1) ?? mark.id, x + half + 26, y - height / 2 + 8)
  }
}

/** Where the turn begins and begins again. */
function drawSeam({ s: { c, tones }, view, frame, across }: Plane): void {
  Object.assign(c, { strokeStyle: tones.ink, lineWidth: 1 })
  c.setLineDash([2, 4])
  for (const turn of [0, 1]) {
    if (turn < view.turnFrom || turn > view.turnTo) continue
    const x = Math.round(place(across, turn)) + 0.5
    c.beginPath()
    c.moveTo(x, frame.y)
    c.lineTo(x, frame.y + frame.height)
    c.stroke()
  }
  c.setLineDash([])
}

/** This place, now: a cross in the accent over the whole map. */
function drawSpot({ s: { c, tones }, spot, view, frame, across, down }: Plane): void {
  if (spot === undefined) return
  const y = place(down, spot.depth)
  for (const [stroke, width] of [
    [tones.sheet, 3.5],
    [tones.accent, 1.5]
  ] as const) {
    Object.assign(c, { strokeStyle: stroke, lineWidth: width })
    c.beginPath()
    c.moveTo(frame.x, y)
    c.lineTo(frame.x + frame.width, y)
    for (let turn = Math.floor(view.turnFrom); turn <= view.turnTo; turn++) {
      const x = place(across, spot.turn + turn)
      c.moveTo(x, frame.y)
      c.lineTo(x, frame.y + frame.height)
    }
    c.stroke()
  }
}

/** The stack beside the wall, to scale, with the metals' names. */
function drawLayers({ s, frame, scene, down }: Plane): void {
  const { c, tones } = s
  const strip: Frame = { x: frame.x - gutter.layers, y: frame.y, width: gutter.layers - 3, height: frame.height }
  within(s, strip, () => {
    for (const [at, layer] of scene.layers.entries()) drawLayer(s, { strip, down, layer, number: at + 1 })
  })
  Object.assign(c, { strokeStyle: tones.line, lineWidth: 1 })
  if (scene.layers.length > 0) c.strokeRect(strip.x + 0.5, strip.y + 0.5, strip.width - 1, strip.height - 1)
}

interface LayerDrawing {
  readonly strip: Frame
  readonly down: Scale
  readonly layer: Layer
  readonly number: number
}

function drawLayer({ c, tones }: Surface, { strip, down, layer, number }: LayerDrawing): void {
  const [top, bottom] = [place(down, layer.from), place(down, layer.to)]
  c.save()
  c.globalAlpha = number % 2 === 0 ? 0.3 : 0.16
  c.fillStyle = tones.accent
  c.fillRect(strip.x, top, strip.width, bottom - top)
  c.restore()
  const [seenTop, seenBottom] = [Math.max(strip.y, top), Math.min(strip.y + strip.height, bottom)]
  c.save()
  Object.assign(c, { font: font(13), fillStyle: tones.ink, textAlign: 'center', textBaseline: 'middle' })
  const fits = c.measureText(layer.name).width < seenBottom - seenTop - 8
  c.translate(strip.x + strip.width / 2 + 1, (seenTop + seenBottom) / 2)
  c.rotate(-Math.PI / 2)
  if (fits) c.fillText(layer.name, 0, 0)
  c.restore()
  if (!fits && seenBottom - seenTop > 14) {
    Object.assign(c, { font: font(13), fillStyle: tones.ink, textAlign: 'center', textBaseline: 'middle' })
    c.fillText(`${number}`, strip.x + strip.width / 2, (seenTop + seenBottom) / 2)
  }
}

function drawAxes({ s, frame, scene, view, across, down }: Plane): void {
  const { writing, axis, basis } = scene
  const isLength = axis.unit === 'm'
  const figure = (value: number) => (isLength ? lengthFigure(writing, value) : value)
  const at = evenTicks(figure(view.depthFrom), figure(view.depthTo), Math.max(2, Math.floor(frame.height / 46)))
  const shown = scaleDown(frame, figure(down.from), figure(down.to))
  const left: Frame = { ...frame, x: frame.x - gutter.layers }
  axisLeft(s, left, { scale: shown, at, label: isLength ? `depth, ${lengthUnit(writing)}` : 'revolution' })
  axisBelow(s, frame, {
    scale: across,
    at: aroundTicks(view, basis, writing.angle),
    label: aroundLabel(basis, writing.angle)
  })
}

const aroundLabel = (basis: string, angle: string): string => {
  if (basis === 'clock') return angle === 'clock' ? 'clock position' : 'angle from 12 o’clock, degrees'
  return 'relative angle, degrees'
}

const steps = [1 / 360, 1 / 72, 1 / 36, 1 / 24, 1 / 12, 1 / 8, 1 / 4]

function aroundTicks({ turnFrom, turnTo }: View, basis: string, angle: string) {
  const step = steps.find((one) => (turnTo - turnFrom) / one <= 16) ?? 1 / 4
  const first = Math.ceil(turnFrom / step)
  const count = Math.floor(turnTo / step) - first + 1
  return Array.from({ length: Math.max(0, count) }, (_, at) => {
    const value = (first + at) * step
    const turn = value - Math.floor(value)
    return { value, text: basis === 'clock' && angle === 'clock' ? clockText(turn) : `${Math.round(turn * 360)}°` }
  })
}
