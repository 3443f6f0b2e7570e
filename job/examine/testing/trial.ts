/** Test help: the trial recordings outside this clone, with technique and equipment of their set-up unchanged. */
import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import type { Equipment, Hole, HoleStandard, HoleTechnique } from '../../plan/index.ts'
import type { Recorded } from './hole.ts'

export interface TrialFlaw {
  readonly depth_mm: number
  readonly length_mm: number
  readonly angle_deg: number
  readonly z0_mm: number
  readonly z1_mm: number
}

export interface TrialTruth {
  readonly flaws: readonly TrialFlaw[]
  readonly fault: string | null
  readonly nonrelevant: Readonly<Record<string, unknown>>
}

export const readJson = <T>(folder: string, name: string): T =>
  JSON.parse(readFileSync(join(folder, `${name}.json`), 'utf8')) as T

/** Columns of a CSV with one line of names. */
export function columnsOf(folder: string, name: string): readonly Float64Array[] {
  const rows = readFileSync(join(folder, `${name}.csv`), 'utf8')
    .trim()
    .split('\n')
    .slice(1)
  const table = rows.map((row) => row.split(',').map(Number))
  return table[0]!.map((_, k) => Float64Array.from(table, (row) => row[k]!))
}

/** A 32-bit float WAV with channels x, y, index, as the trial's README says; or the CSV of that name. */
export function holeRecording(folder: string, name: string, rate_Hz: number): Recorded {
  const number = Number(/^hole-(\d+)$/.exec(name)?.[1] ?? 0)
  if (number > 0 && number % 5 === 0) {
    const [, x, y, index] = columnsOf(folder, name)
    return { rate_Hz, x: x!, y: y!, index: index! }
  }
  const bytes = readFileSync(join(folder, `${name}.wav`))
  const data = bytes.indexOf('data', 12, 'latin1')
  const count = bytes.readUInt32LE(data + 4) / 12
  const column = (k: number) =>
    Float64Array.from({ length: count }, (_, i) => bytes.readFloatLE(data + 8 + 12 * i + 4 * k))
  return { rate_Hz, x: column(0), y: column(1), index: column(2) }
}

interface Setup {
  readonly metal: string
  readonly frequency_khz: number
  readonly source_filter: string
  readonly sample_rate_hz: number
  readonly rotation_rpm_nominal: number
  readonly rotation_sense: string
  readonly angle_datum: string
  readonly pitch_mm_per_rev: number
  readonly hole_diameter_mm: number
  readonly grip_mm: number
  readonly interfaces_mm: readonly number[]
  readonly equipment: Readonly<Record<'instrument' | 'probe' | 'cable' | 'drive' | 'gain', string>> & {
    readonly lobe_spacing_mm: number
  }
  readonly technique: Pick<
    HoleTechnique,
    'alarm' | 'target_flaw_mm' | 'max_pitch_mm' | 'speed_tolerance' | 'recheck_allowance'
  > &
    Pick<HoleTechnique, 'min_signal_to_noise' | 'corner_zones_by' | 'may_class_by_phase_and_shape'>
  readonly reference_standard: {
    readonly metal: string
    readonly hole_diameter_mm: number
    readonly thickness_mm: number
    readonly notches: readonly (Omit<HoleStandard['notches'][number], 'id'> & { readonly kind: string })[]
  }
}

export interface TrialJob {
  readonly rate_Hz: number
  readonly technique: HoleTechnique
  readonly standard: HoleStandard
  readonly equipment: Equipment
  readonly hole: Hole
  readonly truth: Readonly<Record<string, TrialTruth>>
}

export function trialJob(folder: string): TrialJob {
  const setup = readJson<Setup>(folder, 'setup')
  const { recheck_allowance, ...rest } = setup.technique
  const { instrument, probe, cable, drive, gain, lobe_spacing_mm } = setup.equipment
  const { notches, ...standard } = setup.reference_standard
  return {
    rate_Hz: setup.sample_rate_hz,
    technique: {
      application: 'fastener hole',
      procedure: { id: 'trial', revision: 'as delivered' },
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
      ...rest,
      recheck_allowance: { amplitude: recheck_allowance.amplitude, angle_deg: recheck_allowance.angle_deg }
    },
    standard: {
      ...standard,
      id: 'trial',
      interfaces_mm: [],
      angle_datum: 'index pulse',
      notches: notches.map(({ kind: _, ...notch }) => ({ ...notch, id: `${notch.place} ${notch.depth_mm} mm` }))
    },
    equipment: { instrument, probe, cable, drive, gain, filters: setup.source_filter, entered_by: 'trial' },
    hole: {
      id: 'trial',
      diameter_mm: setup.hole_diameter_mm,
      grip_mm: setup.grip_mm,
      interfaces_mm: [...setup.interfaces_mm],
      layers: [setup.metal, ...setup.interfaces_mm.map(() => setup.metal)]
    },
    truth: readJson(folder, 'truth')
  }
}
