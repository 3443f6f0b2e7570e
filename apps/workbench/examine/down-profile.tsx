import { place } from '@trueloop/ground/picture'
import { useMemo } from 'react'
import { axisBelow, evenTicks, type Frame, font, outline, scaleDown, scaleX, within } from '../plot/axes.ts'
import { Canvas, type Draw, type Surface } from '../plot/canvas.tsx'
import type { Writing } from '../units/figures.ts'
import { farthest, traceAround } from '../wall/wall.ts'
import { gutter } from './map-draw.ts'
import type { ProfileProps, Shown } from './profiles.tsx'

interface DownProps extends ProfileProps {
  /** half the width of the notch's shape, elements */
  readonly half: number
  /** alarm level as a share of the named notch */
  readonly alarm: number | undefined
}

/** The amplitude from peak to peak at the chosen angle, revolution by revolution: beside the map and in step with it. */
export function DownProfile({ shown, other, spot, view, writing, half, alarm }: DownProps) {
  const own = useMemo(() => amplitudes(shown, spot.turn, half), [shown, spot.turn, half])
  const beside = useMemo(
    () => (other === undefined ? [] : amplitudes(other, spot.turn, half)),
    [other, spot.turn, half]
  )
  const draw = useMemo(
    (): Draw => (s) => {
      const frame: Frame = {
        ...{ x: 10, y: gutter.top, width: Math.max(1, s.width - 28) },
        height: Math.max(1, s.height - gutter.top - gutter.bottom)
      }
      const most =
        1.1 * Math.max(0.6 * shown.scale, alarm ?? 0, ...own.map(([, size]) => size), ...beside.map(([, size]) => size))
      const along = scaleDown(frame, view.depthFrom, view.depthTo)
      const size = scaleX(frame, 0, most)
      s.c.fillStyle = s.tones.sheet
      s.c.fillRect(frame.x, frame.y, frame.width, frame.height)
      within(s, frame, () => {
        if (alarm !== undefined) level(s, frame, place(size, alarm))
        trace(s, { points: beside, to: (at, value) => [place(size, value), place(along, at)], isOwn: false })
        trace(s, { points: own, to: (at, value) => [place(size, value), place(along, at)], isOwn: true })
        here(s, frame, place(along, spot.depth))
      })
      outline(s, frame)
      axisBelow(s, frame, { scale: size, at: sizeTicks(writing, most, shown.unit), label: 'peak to peak' })
      heading(s, frame, alarm !== undefined)
    },
    [own, beside, shown.scale, shown.unit, spot, view, writing, alarm]
  )
  return <Canvas draw={draw} className="profile" label="Amplitude along the depth at the chosen angle." />
}

type Points = readonly (readonly [number, number])[]

function amplitudes({ wall, axis }: Shown, turn: number, half: number): Points {
  const share = turn - Math.floor(turn)
  return Array.from({ length: wall.rows }, (_, row) => {
    const ruler = wall.rowFrom + row + share
    return [axis.valueAt(ruler), farthest(traceAround(wall, ruler, half)).distance] as const
  })
}

function sizeTicks({ amplitude }: Writing, most: number, unit: Shown['unit']) {
  if (unit === 'recorded') return evenTicks(0, most, 3)
  if (amplitude === 'share')
    return evenTicks(0, 100 * most, 3).map(({ value, text }) => ({ value: value / 100, text: `${text} %` }))
  return [6, 0, -6, -12]
    .map((dB) => ({ value: 10 ** (dB / 20), text: `${dB}`.replace('-', '−') }))
    .filter(({ value }) => value <= most)
}

function heading({ c, tones }: Surface, frame: Frame, hasAlarm: boolean): void {
  Object.assign(c, { font: font(13), fillStyle: tones.quiet, textAlign: 'left', textBaseline: 'bottom' })
  c.fillText(hasAlarm ? 'alarm level dashed' : 'at the chosen angle', frame.x, frame.y - 4)
}

function level({ c, tones }: Surface, frame: Frame, x: number): void {
  Object.assign(c, { strokeStyle: tones.red, lineWidth: 1.5 })
  c.setLineDash([5, 4])
  c.beginPath()
  c.moveTo(x, frame.y)
  c.lineTo(x, frame.y + frame.height)
  c.stroke()
  c.setLineDash([])
}

interface Traced {
  readonly points: Points
  readonly to: (at: number, value: number) => readonly [number, number]
  readonly isOwn: boolean
}

function trace({ c, tones }: Surface, { points, to, isOwn }: Traced): void {
  Object.assign(c, { strokeStyle: isOwn ? tones.ink : tones.quiet, lineWidth: isOwn ? 1.8 : 1.5, lineJoin: 'round' })
  c.setLineDash(isOwn ? [] : [6, 4])
  c.beginPath()
  for (const [i, [at, value]] of points.entries()) {
    if (i === 0) c.moveTo(...to(at, value))
    else c.lineTo(...to(at, value))
  }
  c.stroke()
  c.setLineDash([])
}

function here({ c, tones }: Surface, frame: Frame, y: number): void {
  Object.assign(c, { strokeStyle: tones.accent, lineWidth: 1.5 })
  c.beginPath()
  c.moveTo(frame.x, y)
  c.lineTo(frame.x + frame.width, y)
  c.stroke()
}
