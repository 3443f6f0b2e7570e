/** Conductivity and permeability: data with a source a row, and what a person measured beside them. */
export { type MaterialsCode, materialsCodes } from './codes.ts'
export { type Measured, type MeasuredMaterial, materialNamed, resistivity_uOhm_cm, withMeasured } from './lookup.ts'
export type { Base, Material, Standing, Stated } from './material.ts'
export { materials } from './table.ts'
export {
  conductivityAt,
  conductivityAt20,
  type TemperatureLaw,
  temperatureLaws,
  temperatureLimits_C
} from './temperature.ts'
