import { TAU } from '@trueloop/ground/numerics'
import type { Quantity } from '@trueloop/ground/quantity'
import { isRefusal, type Result } from '@trueloop/ground/refusal'
import type { FieldsCode } from '../codes.ts'
import { impedanceChange } from './impedance.ts'
import type { Layer } from './layer.ts'
import { type LayerProbe, raised } from './probe.ts'

/** One absolute coil over layers, and what makes its impedance dimensionless. */
export interface PlaneView {
  readonly probe: LayerProbe
  /** L0 of the coil in air, H. */
  readonly inductance_H: number
  readonly frequency: Quantity<'Hz'>
  readonly layers: readonly Layer[]
}

/** A point of the normalized impedance plane: the coil in air is at (0, 1). */
export interface PlanePoint {
  /** Delta R / (omega L0). */
  readonly resistance: number
  /** 1 + Delta X / (omega L0). */
  readonly reactance: number
}

type Curve = Result<readonly PlanePoint[], FieldsCode>

/**
 * The place of a coil in the normalized impedance plane: (Delta R, omega L0 + Delta X) / (omega L0). The wire's own
 * resistance is not in it. Refuses: as impedanceChange. source: dodd-deeds-1968
 */
export function planePoint({ probe, inductance_H, frequency, layers }: PlaneView): Result<PlanePoint, FieldsCode> {
  const change = impedanceChange(probe, frequency, layers)
  if (isRefusal(change)) return change
  const size = TAU * frequency * inductance_H
  return { resistance: change.resistance / size, reactance: 1 + change.reactance / size }
}

function curve<T>(values: readonly T[], view: (value: T) => Result<PlaneView, FieldsCode>): Curve {
  const points: PlanePoint[] = []
  for (const value of values) {
    const seen = view(value)
    const point = isRefusal(seen) ? seen : planePoint(seen)
    if (isRefusal(point)) return point
    points.push(point)
  }
  return points
}

/** Points for rises above the planned lift-off, m. Refuses: fields/lowered, and as planePoint. */
export const liftOffCurve = (view: PlaneView, rises: readonly Quantity<'m'>[]): Curve =>
  curve(rises, (rise) => {
    const probe = raised(view.probe, rise)
    return isRefusal(probe) ? probe : { ...view, probe }
  })

/** Points for frequencies. Refuses: as planePoint. */
export const frequencyCurve = (view: PlaneView, frequencies: readonly Quantity<'Hz'>[]): Curve =>
  curve(frequencies, (frequency) => ({ ...view, frequency }))

/** Points for one layer in each of several states: its conductivity, thickness or permeability. Refuses: as planePoint. */
export const layerCurve = (view: PlaneView, at: number, states: readonly Partial<Layer>[]): Curve =>
  curve(states, (state) => ({
    ...view,
    layers: view.layers.map((layer, index) => (index === at ? { ...layer, ...state } : layer))
  }))
