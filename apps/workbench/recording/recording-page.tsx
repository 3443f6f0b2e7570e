import { useParams } from '@tanstack/react-router'
import { type KeyboardEvent, useEffect, useMemo, useRef, useState } from 'react'
import { Canvas } from '../plot/canvas.tsx'
import { Trouble } from '../shell/refusals.tsx'
import { useTitle } from '../shell/use-title.ts'
import { finest } from './pyramid.ts'
import { drawStrip, type Stretch, stripFrame } from './strip-draw.ts'
import { type Recording, useRecording } from './use-recording.ts'

/** A recording as it was taken, over time, whole or as near as its samples. */
export function RecordingPage() {
  const { job, examination } = useParams({ from: '/jobs/$job/recording/$examination' })
  useTitle(`recording · ${job}`)
  const { recording, window, read, error, ask } = useRecording(job, examination)
  if (error !== null) return <Trouble error={error} />
  if (recording === undefined)
    return (
      <div className="page">
        <p role="status">{`The recording is being read: ${Math.floor(100 * read)} %`}</p>
      </div>
    )
  return <Strip recording={recording} window={window} ask={ask} />
}

interface StripProps {
  readonly recording: Recording
  readonly window: ReturnType<typeof useRecording>['window']
  ask(from: number, to: number): void
}

function Strip({ recording, window, ask }: StripProps) {
  const { samples } = recording
  const [stretch, set] = useState<Stretch>({ from: 0, to: samples })
  const canvas = useRef<HTMLCanvasElement>(null)
  const reach = useMemo(() => reachOf(recording), [recording])
  const draw = useMemo(() => drawStrip({ recording, stretch, window, reach }), [recording, stretch, window, reach])
  const look = (next: Stretch) => set(held(next, samples))
  const latest = useRef({ stretch, look })
  latest.current = { stretch, look }
  useNear(stretch, canvas, ask)
  useDragging(canvas, latest)
  const onKey = (event: KeyboardEvent) => {
    const next = stepped(event.key, stretch, samples)
    if (next === undefined) return
    event.preventDefault()
    look(next)
  }
  const { from, to } = stretch
  return (
    <div className="strip-page">
      <div className="toolbar">
        <fieldset className="choice" aria-label="how near">
          <button type="button" aria-label="farther" onClick={() => look(near(stretch, 1 / 2, (from + to) / 2))}>
            −
          </button>
          <button type="button" onClick={() => look({ from: 0, to: samples })}>
            whole recording
          </button>
          <button type="button" aria-label="nearer" onClick={() => look(near(stretch, 2, (from + to) / 2))}>
            +
          </button>
        </fieldset>
        <span className="quiet">{`${samples.toLocaleString('en')} samples at ${recording.rate_Hz} Hz`}</span>
      </div>
      <div
        className="strip"
        role="application"
        aria-label="Recording over time. Arrow keys shift, plus and minus zoom."
        // biome-ignore lint/a11y/noNoninteractiveTabindex: as above
        tabIndex={0}
        onKeyDown={onKey}
      >
        <Canvas draw={draw} element={canvas} label="Both channels of the recording over time." />
      </div>
    </div>
  )
}

/** Least and most of both channels, with a little room. */
function reachOf({ levels }: Recording): readonly [number, number] {
  const { x, y } = levels.at(-1)!
  let [least, most] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY]
  for (const values of [x, y])
    for (const value of values) {
      if (value < least) least = value
      if (value > most) most = value
    }
  if (!(most > least)) return [-1, 1]
  const room = 0.04 * (most - least)
  return [least - room, most + room]
}

const fewest = 50

function held({ from, to }: Stretch, samples: number): Stretch {
  const span = Math.min(samples, Math.max(fewest, to - from))
  const start = Math.min(Math.max((from + to - span) / 2, 0), samples - span)
  return { from: start, to: start + span }
}

const near = ({ from, to }: Stretch, factor: number, at: number): Stretch => ({
  from: at - (at - from) / factor,
  to: at + (to - at) / factor
})

function stepped(key: string, { from, to }: Stretch, samples: number): Stretch | undefined {
  const by = 0.1 * (to - from)
  if (key === 'ArrowLeft') return { from: from - by, to: to - by }
  if (key === 'ArrowRight') return { from: from + by, to: to + by }
  if (key === '+' || key === '=') return near({ from, to }, 2, (from + to) / 2)
  if (key === '-') return near({ from, to }, 1 / 2, (from + to) / 2)
  return key === '0' ? { from: 0, to: samples } : undefined
}

type Canvas2 = { readonly current: HTMLCanvasElement | null }

/** So near that single samples can be told apart, the samples themselves are asked for, with a screen on either side. */
function useNear({ from, to }: Stretch, canvas: Canvas2, ask: StripProps['ask']): void {
  const latest = useRef(ask)
  latest.current = ask
  useEffect(() => {
    const width = stripFrame(canvas.current?.clientWidth ?? 1, 1).width
    if ((to - from) / width >= finest) return
    const timer = setTimeout(() => latest.current(from - (to - from), to + (to - from)), 30)
    return () => clearTimeout(timer)
  }, [from, to, canvas])
}

/** Drag shifts; the wheel zooms about the pointer, and shifts with the shift key. */
function useDragging(
  canvas: Canvas2,
  latest: { readonly current: { stretch: Stretch; look(next: Stretch): void } }
): void {
  useEffect(() => {
    const { current } = canvas
    if (current === null) return
    let last: number | undefined
    const each = () => {
      const { stretch } = latest.current
      return (stretch.to - stretch.from) / stripFrame(current.clientWidth, 1).width
    }
    const shift = (pixels: number) => {
      const { stretch, look } = latest.current
      const by = pixels * each()
      look({ from: stretch.from + by, to: stretch.to + by })
    }
    const onDown = (event: PointerEvent) => {
      last = event.clientX
      current.setPointerCapture(event.pointerId)
    }
    const onMove = (event: PointerEvent) => {
      if (last === undefined) return
      shift(last - event.clientX)
      last = event.clientX
    }
    const onUp = () => {
      last = undefined
    }
    const onWheel = (event: WheelEvent) => {
      event.preventDefault()
      const { stretch, look } = latest.current
      if (event.shiftKey) return shift(event.deltaY || event.deltaX)
      const box = current.getBoundingClientRect()
      const at = stretch.from + (event.clientX - box.x - stripFrame(box.width, 1).x) * each()
      look(near(stretch, Math.exp(-event.deltaY / 300), at))
    }
    const listeners = { pointerdown: onDown, pointermove: onMove, pointerup: onUp, pointercancel: onUp, wheel: onWheel }
    for (const [name, listener] of Object.entries(listeners))
      current.addEventListener(name, listener as EventListener, name === 'wheel' ? { passive: false } : {})
    return () => {
      for (const [name, listener] of Object.entries(listeners))
        current.removeEventListener(name, listener as EventListener)
    }
  }, [canvas, latest])
}
