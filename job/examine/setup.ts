import type { Refusal } from '@trueloop/ground/refusal'
import type { Equipment, Hole, HoleTechnique } from '../plan/index.ts'
import type { Standardization } from '../standardize/index.ts'
import { refuse } from './codes.ts'

const VALUES = ['instrument', 'probe', 'cable', 'drive', 'gain', 'filters'] as const
const UNKNOWN = 'unknown'

/** Diameters up to this far apart count as one class: what costs a small coil about 1 dB of lift-off. */
const DIAMETER_CLASS_MM = 0.05

export interface SetupCheck {
  /** a value differs: the standardization doesn't hold */
  readonly refused: readonly Refusal[]
  /** a value is unknown: examined, sizes and proposals withheld */
  readonly unknown: readonly Refusal[]
}

/** Compares the set-up of a scan with the one that a standardization holds for. */
export function checkSetup(standardization: Standardization, equipment: Equipment): SetupCheck {
  const refused: Refusal[] = []
  const unknown: Refusal[] = []
  for (const value of VALUES) {
    const held = standardization.equipment[value]
    const now = equipment[value]
    if (held === UNKNOWN || now === UNKNOWN) unknown.push(unknownValue(value))
    else if (held !== now) refused.push(differs(value, now, held))
  }
  return { refused, unknown }
}

/** Whether the standardization was made at the frequency of the technique. */
export function checkFrequency(
  { frequency_kHz }: Standardization,
  technique: { readonly frequency_kHz: number }
): readonly Refusal[] {
  if (frequency_kHz === technique.frequency_kHz) return []
  return [differs('frequency', `${technique.frequency_kHz} kHz`, `${frequency_kHz} kHz`)]
}

/** Whether the standardization holds for this technique and hole: frequency, metal of every layer, diameter class. */
export function checkHole(standardization: Standardization, technique: HoleTechnique, hole: Hole): readonly Refusal[] {
  const refused: Refusal[] = [...checkFrequency(standardization, technique)]
  if (Math.abs(standardization.diameter_mm - hole.diameter_mm) > DIAMETER_CLASS_MM) {
    refused.push(
      refuse('examine/diameter-differs', {
        found: `a hole of ${hole.diameter_mm} mm`,
        needed: `the diameter class of the standardization: ${standardization.diameter_mm} ± ${DIAMETER_CLASS_MM} mm`,
        remedy: 'standardize with a probe and a reference standard of this diameter'
      })
    )
  }
  return refused
}

/** Layers whose metal the standardization does not hold for, by number from 0. */
export function foreignLayers(standardization: Standardization, hole: Hole): readonly number[] {
  return (hole.layers ?? []).flatMap((metal, i) => (metal === standardization.metal ? [] : [i]))
}

/** One refusal for each of them: what holds for one metal says nothing of another. */
export const checkMetals = (standardization: Standardization, hole: Hole): readonly Refusal[] =>
  foreignLayers(standardization, hole).map((layer) =>
    refuse('examine/metal-differs', {
      found: `layer ${layer + 1} of ${hole.layers?.[layer]}`,
      needed: `the metal of the standardization: ${standardization.metal}`,
      remedy: 'standardize on a reference standard of that metal and scan the hole again with it'
    })
  )

/** A filter before the recording moves its corners with the speed: then the speeds of both scans must agree. */
export function speedOutside(
  standardization: Standardization,
  filters: string,
  speed: { readonly least: number; readonly most: number }
): Refusal | undefined {
  const { least, most } = standardization.speed_window
  if (filters === 'none' || (speed.least >= least && speed.most <= most)) return undefined
  return refuse('examine/speed-outside-window', {
    found: `${(60 * speed.least).toFixed(0)} to ${(60 * speed.most).toFixed(0)} rpm, with filters before the recording: ${filters}`,
    needed: `${(60 * least).toFixed(0)} to ${(60 * most).toFixed(0)} rpm, where the standardization holds`,
    remedy: 'scan at the speed of the reference scan, or standardize at this speed'
  })
}

const differs = (value: string, now: string, held: string): Refusal =>
  refuse('examine/setup-differs', {
    found: `${value}: ${now}`,
    needed: `as standardized: ${held}`,
    remedy: 'standardize again with this set-up, or correct the job sheet'
  })

const unknownValue = (value: string): Refusal =>
  refuse('examine/setup-unknown', {
    found: `${value}: not known for the scan or for the reference scan`,
    needed: 'the same value in both, entered by a named person',
    remedy: 'enter it in the job sheet; until then sizes and proposals are withheld'
  })
