import { refuser } from '@trueloop/ground/refusal'

/** Every reason for which this room answers "no". */
export const materialsCodes = [
  'materials/unknown',
  'materials/no-source',
  'materials/bad-value',
  'materials/outside-range',
  'materials/outside-temperature',
  'materials/no-temperature-law'
] as const

export type MaterialsCode = (typeof materialsCodes)[number]

export const refuse = refuser(materialsCodes)
