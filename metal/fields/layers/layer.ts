import type { Quantity } from '@trueloop/ground/quantity'
import type { Refusal } from '@trueloop/ground/refusal'
import { type FieldsCode, refuse } from '../codes.ts'
import { MU0 } from '../vacuum.ts'
import type { LayerColumns } from './reflection.kernel.ts'

/** One plane layer. Paint and air gaps are layers with conductivity 0 and permeability 1. */
export interface Layer {
  readonly conductivity: Quantity<'S/m'>
  /** Relative, 1 or more, real: no hysteresis, no saturation. */
  readonly permeability: number
  readonly thickness: Quantity<'m'> | 'infinite'
}

/**
 * Layers from the top down; the last one is infinite (the metal itself, or air behind a plate).
 * Refuses: fields/no-layers, fields/no-last-layer, fields/layer-below-infinite, fields/bad-thickness,
 * fields/bad-permeability, fields/bad-conductivity.
 */
export function layersComplaint(layers: readonly Layer[]): Refusal<FieldsCode> | undefined {
  if (layers.length === 0) return noLayers()
  const firstInfinite = layers.findIndex(({ thickness }) => thickness === 'infinite')
  if (firstInfinite < 0) return noLastLayer(layers.length)
  if (firstInfinite < layers.length - 1) return belowInfinite(firstInfinite)
  return layers.map(layerComplaint).find((complaint) => complaint !== undefined)
}

function layerComplaint({ conductivity, permeability, thickness }: Layer, at: number): Refusal<FieldsCode> | undefined {
  const where = { path: `layers[${at}]` }
  if (thickness !== 'infinite' && !(thickness > 0 && Number.isFinite(thickness)))
    return refuse('fields/bad-thickness', {
      found: `a layer ${thickness} m thick`,
      needed: 'a thickness above zero',
      remedy: 'leave out a layer that is not there, or write "infinite" for the last one',
      where
    })
  return permeabilityComplaint(permeability, where) ?? conductivityComplaint(conductivity, where)
}

/** Refuses: fields/bad-permeability. */
export const permeabilityComplaint = (value: number, where?: { path: string }): Refusal<FieldsCode> | undefined =>
  value >= 1 && Number.isFinite(value)
    ? undefined
    : refuse('fields/bad-permeability', {
        found: `a relative permeability of ${value}`,
        needed: '1 for a metal that is not magnetic, more for steel',
        remedy: 'give the relative permeability at the field of the coil, not an absolute one',
        ...(where === undefined ? {} : { where })
      })

/** Refuses: fields/bad-conductivity. */
const conductivityComplaint = (value: number, where: { path: string }): Refusal<FieldsCode> | undefined =>
  value >= 0 && Number.isFinite(value)
    ? undefined
    : refuse('fields/bad-conductivity', {
        found: `a conductivity of ${value} S/m`,
        needed: 'zero for an insulator, more for a metal',
        remedy: 'check the value and its unit',
        where
      })

const noLayers = (): Refusal<FieldsCode> =>
  refuse('fields/no-layers', {
    found: 'no layer',
    needed: 'at least the metal below the coil',
    remedy: 'give the layers from the top down'
  })

const noLastLayer = (count: number): Refusal<FieldsCode> =>
  refuse('fields/no-last-layer', {
    found: `${count} layers of finite thickness`,
    needed: 'an infinite layer at the end',
    remedy: 'add what lies behind: air (conductivity 0, permeability 1) behind a plate, or the metal itself'
  })

const belowInfinite = (at: number): Refusal<FieldsCode> =>
  refuse('fields/layer-below-infinite', {
    found: `a layer below the infinite one, layers[${at}]`,
    needed: 'one infinite layer, the last',
    remedy: 'give that layer its thickness, or leave out what lies below it',
    where: { path: `layers[${at + 1}]` }
  })

/** The layers as columns for an angular frequency omega in rad/s. They have passed layersComplaint. */
export function columnsOf(layers: readonly Layer[], omega: number): LayerColumns {
  const permeability = Float64Array.from(layers, (layer) => layer.permeability)
  const diffusion = Float64Array.from(layers, (layer) => omega * MU0 * layer.permeability * layer.conductivity)
  const thickness = Float64Array.from(layers, (layer) => (layer.thickness === 'infinite' ? 0 : layer.thickness))
  return { diffusion, permeability, thickness }
}
