import { printQuantity, type Quantity, toTrade } from '@trueloop/ground/quantity'
import type { Result } from '@trueloop/ground/refusal'
import { type MaterialsCode, refuse } from './codes.ts'
import type { Material } from './material.ts'
import { materials } from './table.ts'

const plain = (name: string): string => name.trim().toLowerCase().replaceAll(/\s+/g, ' ')

/** The row of a material by its name; capitals and blanks do not count. Refuses: materials/unknown. */
export function materialNamed(name: string): Result<Material, MaterialsCode> {
  const found = materials.find((row) => plain(row.name) === plain(name))
  if (found !== undefined) return found
  return refuse('materials/unknown', {
    found: `"${name}"`,
    needed: 'a material of the table',
    remedy: 'choose one of the table, temper included, or give a measured conductivity with its source'
  })
}

/** What a person measured on the part or the reference standard: rules over the table, and stands beside it. */
export interface Measured {
  readonly conductivity: Quantity<'S/m'>
  /** Who measured it, with what, when. */
  readonly source: string
}

export interface MeasuredMaterial extends Material {
  readonly measured: Measured
}

/**
 * A measured conductivity (at 20 °C) beside the row of the table. A value outside the row's limits, or without a source,
 * is refused: the part is another alloy or temper than it is called, or the instrument was not calibrated. Where the
 * row has no limits nothing is compared.
 * Refuses: materials/no-source, materials/bad-value, materials/outside-range.
 */
export function withMeasured(row: Material, measured: Measured): Result<MeasuredMaterial, MaterialsCode> {
  const { conductivity, source } = measured
  if (source.trim() === '') return noSource(row)
  if (!(conductivity > 0 && Number.isFinite(conductivity))) return badValue(conductivity)
  const { low = 0, high = Number.POSITIVE_INFINITY } = row.conductivity_IACS
  const inIACS = toTrade(conductivity, '%IACS')
  return inIACS >= low && inIACS <= high ? { ...row, measured } : outside(row, conductivity)
}

const noSource = ({ name }: Material): Result<never, MaterialsCode> =>
  refuse('materials/no-source', {
    found: `a conductivity of ${name} without a source`,
    needed: 'who measured it, with what, and when',
    remedy: 'give the source beside the value'
  })

const badValue = (value: number): Result<never, MaterialsCode> =>
  refuse('materials/bad-value', {
    found: `${value}`,
    needed: 'a value above zero',
    remedy: 'check the value and its unit'
  })

function outside({ name, conductivity_IACS }: Material, value: Quantity<'S/m'>): Result<never, MaterialsCode> {
  const { low, high, limits, standing, source } = conductivity_IACS
  return refuse('materials/outside-range', {
    found: `${printQuantity(value, '%IACS', 2)} for ${name}`,
    needed: `${low} to ${high} %IACS (${(limits ?? standing) === 'proposed' ? 'from memory, proposed' : source})`,
    remedy: 'check alloy and temper, the calibration and the temperature; the limits of the specification rule'
  })
}

/**
 * Resistivity in µΩ·cm: 100 / (MS/m), that is 172.41 / %IACS. Refuses: materials/bad-value.
 * source: iec-60028-1925
 */
export const resistivity_uOhm_cm = (conductivity: Quantity<'S/m'>): Result<number, MaterialsCode> =>
  conductivity > 0 && Number.isFinite(conductivity) ? 100 / toTrade(conductivity, 'MS/m') : badValue(conductivity)
