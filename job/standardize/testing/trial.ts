/** Test help: the trial recordings read where they lie, with technique and equipment of their `setup.json` unchanged. */
import { readFileSync } from 'node:fs'
import { isRefusal } from '@trueloop/ground/refusal'
import type { Equipment, HoleStandard, HoleTechnique } from '../../plan/index.ts'
import { readWhole } from '../../scan/testing/read.ts'
import { openHoleReference, type Standardized } from '../index.ts'

interface Setup {
  readonly metal: string
  readonly frequency_khz: number
  readonly sample_rate_hz: number
  readonly rotation_rpm_nominal: number
  readonly rotation_sense: string
  readonly angle_datum: string
  readonly pitch_mm_per_rev: number
  readonly source_filter: string
  readonly equipment: Pick<Equipment, 'instrument' | 'probe' | 'cable' | 'drive' | 'gain'> & { lobe_spacing_mm: number }
  readonly technique: Pick<
    HoleTechnique,
    | 'alarm'
    | 'target_flaw_mm'
    | 'max_pitch_mm'
    | 'speed_tolerance'
    | 'min_signal_to_noise'
    | 'corner_zones_by'
    | 'may_class_by_phase_and_shape'
  > & { recheck_allowance: HoleTechnique['recheck_allowance'] & { rule: string } }
  readonly reference_standard: Pick<HoleStandard, 'metal' | 'hole_diameter_mm' | 'thickness_mm' | 'interfaces_mm'> & {
    notches: readonly (Omit<HoleStandard['notches'][number], 'id'> & { kind: string })[]
  }
}

export interface Job {
  readonly technique: HoleTechnique
  readonly standard: HoleStandard
  readonly equipment: Equipment
}

export function jobOf(folder: string): Job {
  const setup = JSON.parse(readFileSync(`${folder}/setup.json`, 'utf8')) as Setup
  const { lobe_spacing_mm, instrument, probe, cable, drive, gain } = setup.equipment
  const { amplitude, angle_deg } = setup.technique.recheck_allowance
  const { notches, metal, hole_diameter_mm, thickness_mm, interfaces_mm } = setup.reference_standard
  return {
    technique: {
      application: 'fastener hole',
      procedure: { id: 'trial', revision: '-' },
      metal: setup.metal,
      frequency_kHz: setup.frequency_khz,
      arrangement: 'differential',
      lobe_spacing_mm,
      rotation_rpm: setup.rotation_rpm_nominal,
      rotation_sense: setup.rotation_sense,
      angle_datum: setup.angle_datum,
      axial_position: 'entry and exit edges',
      pitch_mm: setup.pitch_mm_per_rev,
      band: 'from the footprint',
      ...setup.technique,
      recheck_allowance: { amplitude, angle_deg }
    },
    standard: {
      id: 'trial',
      metal,
      hole_diameter_mm,
      thickness_mm,
      interfaces_mm,
      angle_datum: 'index pulse',
      notches: notches.map(({ kind: _, ...notch }) => ({ id: `${notch.place} ${notch.depth_mm} mm`, ...notch }))
    },
    equipment: { instrument, probe, cable, drive, gain, filters: setup.source_filter, entered_by: 'trial set-up' }
  }
}

/** Reads a reference scan or recheck of a trial job; a refusal is a failure of the test. */
export function standardizedFrom(folder: string, file: string): Standardized {
  const { numbers, rate_Hz, x, y, aux } = readWhole(readFileSync(`${folder}/${file}`), file, { x: 0, y: 1, index: 2 })
  const run = openHoleReference({ ...jobOf(folder), rate_Hz, indexed: true })
  if (isRefusal(run)) throw new Error(`${run.code}: ${run.found}`)
  const taken = run.take({ first: numbers[0]!, channels: [{ x, y }], aux: { index: aux.index! } })
  const out = isRefusal(taken) ? taken : run.close()
  if (isRefusal(out)) throw new Error(`${out.code}: ${out.found}`)
  return out
}
