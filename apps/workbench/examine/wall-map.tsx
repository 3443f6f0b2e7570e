import { type KeyboardEvent, type PointerEvent, useCallback, useEffect, useMemo, useRef } from 'react'
import { Canvas } from '../plot/canvas.tsx'
import { useDark } from '../plot/tones.ts'
import { rulerOf, type Spot, wholeTurn } from '../wall/depth-axis.ts'
import { type Painting, paintWall, type Quantity } from '../wall/map-image.ts'
import type { WallSignal } from '../wall/wall.ts'
import { drawMap, mapFrame } from './map-draw.ts'
import type { MarkOnWall, Scene } from './map-scene.ts'
import { panned, type View, wholeView, zoomed } from './view.ts'

interface WallMapProps {
  readonly scene: Scene
  readonly wall: WallSignal
  /** swing at the ends of the color table */
  readonly scale: number
  readonly quantity: Quantity
  readonly view: View
  readonly spot: Spot | undefined
  readonly chosen: string | undefined
  readonly label: string
  look(view: View): void
  choose(spot: Spot): void
  pick(mark: MarkOnWall): void
}

/** The unrolled wall. Click or touch chooses a place; wheel and pinch zoom; drag shifts; arrows move the chosen place. */
export function WallMap(props: WallMapProps) {
  const { scene, wall, scale, quantity, view, spot, chosen, label } = props
  const canvas = useRef<HTMLCanvasElement>(null)
  const isDark = useDark()
  const image = useMemo(() => imageOf(wall, quantity, { scale, isDark }), [wall, quantity, scale, isDark])
  const draw = useMemo(
    () => drawMap({ scene, wall, image, view, spot, chosen }),
    [scene, wall, image, view, spot, chosen]
  )
  const latest = useRef(props)
  latest.current = props
  const pointing = usePointing(canvas, latest)
  return (
    <div
      className="wall-map"
      role="application"
      aria-label={`${label}. Arrow keys move the chosen place, plus and minus zoom.`}
      // biome-ignore lint/a11y/noNoninteractiveTabindex: as above
      tabIndex={0}
      onKeyDown={(event) => onKey(event, latest.current)}
      {...pointing}
    >
      <Canvas draw={draw} label={label} element={canvas} />
    </div>
  )
}

function imageOf(wall: WallSignal, quantity: Quantity, painting: Painting): HTMLCanvasElement {
  const painted = paintWall(wall, quantity, painting)
  const canvas = document.createElement('canvas')
  canvas.width = painted.width
  canvas.height = painted.height
  canvas.getContext('2d')?.putImageData(painted, 0, 0)
  return canvas
}

/** Keys on the map: a step is an element around, a revolution down; with the shift key the view moves instead. */
function onKey(event: KeyboardEvent, { scene, wall, view, spot, look, choose }: WallMapProps): void {
  const whole = wholeView(scene.axis)
  const at = spot ?? { turn: (view.turnFrom + view.turnTo) / 2, depth: (view.depthFrom + view.depthTo) / 2 }
  const row = Math.abs(scene.axis.valueAt(1) - scene.axis.valueAt(0))
  const arrows: Record<string, readonly [number, number]> = {
    ArrowLeft: [-1, 0],
    ArrowRight: [1, 0],
    ArrowUp: [0, -1],
    ArrowDown: [0, 1]
  }
  const arrow = arrows[event.key]
  if (arrow !== undefined) {
    if (event.shiftKey) look(panned(view, whole, 0.1 * arrow[0], 0.1 * arrow[1]))
    else choose(inside(scene, { turn: at.turn + arrow[0] / wall.columns, depth: at.depth + arrow[1] * row }))
  } else if (event.key === '+' || event.key === '=') look(zoomed(view, whole, 1.5, at))
  else if (event.key === '-') look(zoomed(view, whole, 1 / 1.5, at))
  else if (event.key === '0') look(whole)
  else return
  event.preventDefault()
  event.stopPropagation()
}

const inside = ({ axis }: Scene, { turn, depth }: Spot): Spot => ({
  turn: wholeTurn(turn),
  depth: Math.min(Math.max(depth, axis.from), axis.to)
})

type Latest = { readonly current: WallMapProps }

/** Pointers that are down, and what they do: one chooses or shifts, two zoom. */
function usePointing(canvas: { readonly current: HTMLCanvasElement | null }, latest: Latest) {
  const down = useRef(new Map<number, { x: number; y: number }>())
  const moved = useRef(false)

  const spotAt = useCallback(
    (x: number, y: number): Spot & { readonly width: number; readonly height: number } => {
      const box = canvas.current?.getBoundingClientRect() ?? new DOMRect()
      const frame = mapFrame(box.width, box.height)
      const { view } = latest.current
      return {
        turn: view.turnFrom + ((x - box.x - frame.x) / frame.width) * (view.turnTo - view.turnFrom),
        depth: view.depthFrom + ((y - box.y - frame.y) / frame.height) * (view.depthTo - view.depthFrom),
        ...{ width: frame.width, height: frame.height }
      }
    },
    [canvas, latest]
  )

  useEffect(() => {
    const { current } = canvas
    // React listens to the wheel passively: the page would scroll under the map.
    const onWheel = (event: WheelEvent) => {
      event.preventDefault()
      const { view, scene, look } = latest.current
      look(zoomed(view, wholeView(scene.axis), Math.exp(-event.deltaY / 400), spotAt(event.clientX, event.clientY)))
    }
    current?.addEventListener('wheel', onWheel, { passive: false })
    return () => current?.removeEventListener('wheel', onWheel)
  }, [canvas, latest, spotAt])

  const onPointerDown = (event: PointerEvent) => {
    event.currentTarget.setPointerCapture(event.pointerId)
    down.current.set(event.pointerId, { x: event.clientX, y: event.clientY })
    moved.current = down.current.size > 1
  }

  const onPointerMove = (event: PointerEvent) => {
    const before = down.current.get(event.pointerId)
    if (before === undefined) return
    const now = { x: event.clientX, y: event.clientY }
    if (!moved.current && Math.hypot(now.x - before.x, now.y - before.y) < 6) return
    moved.current = true
    const { view, scene, look } = latest.current
    const whole = wholeView(scene.axis)
    const { width, height } = spotAt(now.x, now.y)
    const others = [...down.current].filter(([id]) => id !== event.pointerId)
    const [other] = others.map(([, one]) => one)
    down.current.set(event.pointerId, now)
    if (other === undefined) look(panned(view, whole, (before.x - now.x) / width, (before.y - now.y) / height))
    else {
      const factor = Math.hypot(now.x - other.x, now.y - other.y) / Math.hypot(before.x - other.x, before.y - other.y)
      look(zoomed(view, whole, factor, spotAt((now.x + other.x) / 2, (now.y + other.y) / 2)))
    }
  }

  const onPointerUp = (event: PointerEvent) => {
    down.current.delete(event.pointerId)
    if (moved.current) return
    const { scene, choose, pick, wall } = latest.current
    const spot = spotAt(event.clientX, event.clientY)
    const mark = markAt(scene, spot)
    if (mark !== undefined) return pick(mark)
    const at = inside(scene, spot)
    choose({
      turn: Math.round(at.turn * wall.columns) / wall.columns,
      depth: scene.axis.valueAt(rulerOf(scene.axis, at))
    })
  }

  return { onPointerDown, onPointerMove, onPointerUp, onPointerCancel: onPointerUp }
}

/** The indication under a finger: its outline is at least as large as a target has to be. */
function markAt(
  { marks, axis }: Scene,
  { turn, depth, width, height }: Spot & { readonly width: number; readonly height: number }
): MarkOnWall | undefined {
  const reach = { turn: 22 / width, depth: (22 / height) * (axis.to - axis.from) }
  return marks.find((mark) => {
    const off = Math.abs(wholeTurn(turn - mark.turn + 0.5) - 0.5)
    return off < Math.max(mark.half, reach.turn) && depth > mark.from - reach.depth && depth < mark.to + reach.depth
  })
}
