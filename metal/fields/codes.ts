import { refuser } from '@trueloop/ground/refusal'

/** Every reason for which this room answers "no". */
export const fieldsCodes = [
  'fields/bad-frequency',
  'fields/frequency-too-high',
  'fields/bad-conductivity',
  'fields/bad-permeability',
  'fields/bad-thickness',
  'fields/bad-diameter',
  'fields/bad-out-of-round',
  'fields/bad-depth',
  'fields/bad-coil',
  'fields/coil-too-thin',
  'fields/coil-through-surface',
  'fields/coil-through-wall',
  'fields/lift-off-too-small',
  'fields/lowered',
  'fields/no-layers',
  'fields/no-last-layer',
  'fields/layer-below-infinite',
  'fields/bad-crack',
  'fields/crack-outside-plate',
  'fields/plate-too-thin',
  'fields/wall-too-round',
  'fields/another-hole',
  'fields/bad-cells',
  'fields/cells-too-large',
  'fields/cells-too-small',
  'fields/opening-too-wide',
  'fields/opening-in-magnetic-metal',
  'fields/opening-off-plane',
  'fields/bad-place',
  'fields/bad-reach',
  'fields/notch-not-seen',
  'fields/notch-not-modeled',
  'fields/another-set-up',
  'fields/bad-pair',
  'fields/bad-search',
  'fields/bad-measurement',
  'fields/no-answer',
  'fields/more-than-one-answer',
  'fields/curves-parallel',
  'fields/uncertainty-too-large'
] as const

export type FieldsCode = (typeof fieldsCodes)[number]

export const refuse = refuser(fieldsCodes)
