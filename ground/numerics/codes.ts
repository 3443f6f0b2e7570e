import { refuser } from '../refusal/index.ts'

/** Every reason for which this room answers "no". */
export const numericsCodes = [
  'numerics/too-few-points',
  'numerics/degenerate',
  'numerics/not-converged',
  'numerics/not-positive-definite',
  'numerics/nothing-counted',
  'numerics/beyond-last-bin',
  'numerics/beyond-standards',
  'numerics/plateau',
  'numerics/one-outcome',
  'numerics/separated',
  'numerics/not-rising',
  'numerics/no-bound',
  'numerics/not-positive',
  'numerics/dof-undetermined',
  'numerics/resamples-lost'
] as const

export type NumericsCode = (typeof numericsCodes)[number]

export const refuse = refuser(numericsCodes)
