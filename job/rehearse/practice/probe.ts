import { isRefusal, type Result } from '@trueloop/ground/refusal'
import { type HoleSheet, metalFor } from '../../plan/index.ts'
import { refuse } from '../codes.ts'
import { plain } from '../demo-scene.ts'
import { type FieldProbe, type FieldWinding, pairProbeOf, type TableShelf } from '../field/index.ts'
import type { PairProbe } from '../scene.ts'

/** The pair of a technique by the field of its windings. Refuses: as fieldProbeOf and pairProbeOf. */
export function probeFor(sheet: HoleSheet, shelf: TableShelf): Result<PairProbe> {
  const field = fieldProbeOf(sheet)
  if (isRefusal(field)) return field
  return pairProbeOf(field, 1e-3 * sheet.reference_standard.hole_diameter_mm, { law: plain.probe, shelf })
}

/**
 * The probe of a technique as its windings are, its alarm notch as the unit. Refuses: rehearse/no-pick-ups,
 * rehearse/several-metals, and as metalFor.
 */
function fieldProbeOf({ technique, reference_standard, holes }: HoleSheet): Result<FieldProbe> {
  const { winding, pick_ups: pair } = technique.probe ?? {}
  if (winding === undefined || pair === undefined) return withoutCoils(winding === undefined)
  const metals = new Set([technique.metal, reference_standard.metal, ...holes.flatMap(({ layers = [] }) => layers)])
  if (metals.size > 1) return severalMetals([...metals])
  const metal = metalFor(technique.metal, technique.allowed)
  if (isRefusal(metal)) return metal
  const notch = reference_standard.notches.find(({ id }) => id === technique.alarm.notch)!
  return {
    frequency_Hz: 1000 * technique.frequency_kHz,
    metal: { conductivity_S_per_m: metal.conductivity.value, permeability: metal.permeability.value },
    driver: windingOf(winding),
    pickUps: windingOf(pair),
    unit: {
      outline: notch.place.endsWith('corner') ? 'quarter ellipse' : 'half ellipse',
      depth_m: 1e-3 * notch.depth_mm,
      length_m: 1e-3 * notch.length_mm
    }
  }
}

interface Stated {
  readonly inner_radius_mm: number
  readonly outer_radius_mm: number
  readonly length_mm: number
  readonly turns: number
  readonly lift_off_mm: number
}

const windingOf = (stated: Stated): FieldWinding => ({
  inner_m: 1e-3 * stated.inner_radius_mm,
  outer_m: 1e-3 * stated.outer_radius_mm,
  length_m: 1e-3 * stated.length_mm,
  turns: stated.turns,
  lift_off_m: 1e-3 * stated.lift_off_mm
})

const withoutCoils = (noDriver: boolean): Result<never> =>
  refuse('rehearse/no-pick-ups', {
    found: noDriver ? 'a technique that does not say what coil drives the wall' : 'a driving coil without its pick-ups',
    needed: 'both windings of the probe: recordings are made from their field',
    remedy:
      'write technique.probe.winding and technique.probe.pick_ups, from the drawing of the probe or an X-ray of it',
    where: { path: 'technique.probe' }
  })

const severalMetals = (metals: readonly string[]): Result<never> =>
  refuse('rehearse/several-metals', {
    found: `several metals: ${metals.join(', ')}`,
    needed: 'one metal for technique, reference standard and all layers: a recording is made from one field',
    remedy: 'rehearse each metal with a sheet of its own',
    where: { path: 'technique.metal' }
  })
