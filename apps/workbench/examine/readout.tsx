import { phaseText } from '../units/figures.ts'
import { useWriting } from '../units/use-writing.ts'
import type { Spot } from '../wall/depth-axis.ts'
import type { StatedWall } from '../wall/signal-states.ts'
import { farthest, type Trace } from '../wall/wall.ts'
import type { Scene } from './map-scene.ts'

interface ReadoutProps {
  readonly scene: Scene
  readonly spot: Spot
  readonly trace: Trace
  readonly stated: StatedWall
}

/** The chosen place in figures. */
export function Readout({ scene, spot, trace, stated }: ReadoutProps) {
  const { around, length, amplitude } = useWriting()
  const { from, to, distance } = farthest(trace)
  const layer = scene.layers.findIndex((one) => spot.depth >= one.from && spot.depth < one.to)
  const isLength = scene.axis.unit === 'm'
  const rows = [
    [scene.basis === 'clock' ? 'clock position' : 'relative angle', around(spot.turn * 2 * Math.PI, scene.basis)],
    [isLength ? 'depth' : 'revolution', isLength ? length(spot.depth) : spot.depth.toFixed(1)],
    ['layer', layer < 0 ? (isLength ? 'in air' : 'not known') : `${layer + 1}: ${scene.layers[layer]?.name ?? ''}`],
    ['peak to peak', amplitude(distance, stated.unit)],
    [
      'angle from lift-off',
      trace.x.length < 2
        ? 'none'
        : phaseText(fromLiftOff(stated.liftOff, trace.x[to]! - trace.x[from]!, trace.y[to]! - trace.y[from]!))
    ]
  ] as const
  return (
    <dl className="readout">
      {rows.map(([term, text]) => (
        <div key={term}>
          <dt>{term}</dt>
          <dd>{text}</dd>
        </div>
      ))}
    </dl>
  )
}

/** Of the line between the peaks, a line without a direction: 0 to a right angle. */
const fromLiftOff = ({ x: along, y: up }: StatedWall['liftOff'], x: number, y: number): number =>
  Math.atan2(Math.abs(along * y - up * x), Math.abs(along * x + up * y))
