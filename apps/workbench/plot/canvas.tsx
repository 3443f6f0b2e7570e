import { type CSSProperties, type RefObject, useEffect, useLayoutEffect, useRef } from 'react'
import { type Tones, useTones } from './tones.ts'

export interface Surface {
  readonly c: CanvasRenderingContext2D
  readonly width: number
  readonly height: number
  readonly tones: Tones
}

/** Draws everything anew, in CSS pixels. A new function draws again, once a frame. */
export type Draw = (surface: Surface) => void

interface CanvasProps {
  readonly draw: Draw
  readonly label: string
  readonly element?: RefObject<HTMLCanvasElement | null>
  readonly className?: string
  readonly style?: CSSProperties
}

/** A drawing that fills its place, sharp on every screen. */
export function Canvas({ draw, label, element, className = '', style = {} }: CanvasProps) {
  const own = useRef<HTMLCanvasElement>(null)
  const canvas = element ?? own
  const tones = useTones()
  const latest = useRef<Draw>(draw)
  const frame = useRef(0)
  const paint = useRef<() => void>(() => {})

  useLayoutEffect(() => {
    latest.current = draw
    paint.current = () => {
      frame.current = 0
      const { current } = canvas
      const c = current?.getContext('2d', { alpha: true })
      if (!current || !c) return
      const ratio = fit(current)
      c.setTransform(ratio, 0, 0, ratio, 0, 0)
      c.clearRect(0, 0, current.width, current.height)
      latest.current({ c, width: current.clientWidth, height: current.clientHeight, tones })
    }
    if (frame.current === 0) frame.current = requestAnimationFrame(() => paint.current())
  }, [canvas, draw, tones])

  useEffect(() => {
    const { current } = canvas
    if (current === null) return
    const watcher = new ResizeObserver(() => {
      if (frame.current === 0) frame.current = requestAnimationFrame(() => paint.current())
    })
    watcher.observe(current)
    return () => {
      watcher.disconnect()
      cancelAnimationFrame(frame.current)
      frame.current = 0
    }
  }, [canvas])

  return <canvas ref={canvas} role="img" aria-label={label} className={`drawing ${className}`} style={style} />
}

/** Gives the canvas as many points as it has on the screen; the points of a CSS pixel. */
function fit(canvas: HTMLCanvasElement): number {
  const ratio = window.devicePixelRatio || 1
  const width = Math.round(canvas.clientWidth * ratio)
  const height = Math.round(canvas.clientHeight * ratio)
  if (canvas.width !== width) canvas.width = width
  if (canvas.height !== height) canvas.height = height
  return ratio
}
