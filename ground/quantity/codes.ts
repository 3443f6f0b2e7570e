import { refuser } from '../refusal/index.ts'

/** Every reason for which this room answers "no". */
export const quantityCodes = ['quantity/not-a-number', 'quantity/unknown-unit', 'quantity/wrong-dimension'] as const

export type QuantityCode = (typeof quantityCodes)[number]

export const refuse = refuser(quantityCodes)
