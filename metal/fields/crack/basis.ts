import type { Quantity } from '@trueloop/ground/quantity'
import type { RadialCoil } from '../hole/coil.ts'
import type { PlacedCoil } from '../layers/coil.ts'
import type { CrackInPart } from './crack.ts'
import type { PickUpPair } from './pair-incident.ts'

/** What an answer was computed for. */
export interface AnswerBasis {
  readonly part: CrackInPart
  readonly holeDiameter: Quantity<'m'> | 'flat'
  readonly probe: PlacedCoil | RadialCoil | { readonly driver: PlacedCoil | RadialCoil; readonly pickUps: PickUpPair }
}

/** Whether only the cracks may differ: same probe, metal, frequency and hole. */
export const isSameSetUp = (one: AnswerBasis, other: AnswerBasis): boolean =>
  isSame(one.probe, other.probe) &&
  isSame(one.part.metal, other.part.metal) &&
  one.part.frequency === other.part.frequency &&
  one.holeDiameter === other.holeDiameter

const isRecord = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === 'object' && value !== null

function isSame(one: unknown, other: unknown): boolean {
  if (!isRecord(one) || !isRecord(other)) return one === other
  const keys = Object.keys(one)
  return keys.length === Object.keys(other).length && keys.every((key) => isSame(one[key], other[key]))
}
