import { valuesOf } from '../interpret/index.ts'
import { sizing } from './parameters.ts'

/** The declared values, one object: what is found once a standard is known by it. */
export const declaredNumbers = valuesOf(sizing)
