/** Test help: recordings, papers and truth of a trial job, read as they lie there. */
import { existsSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import type { HoleStandard } from '../../plan/index.ts'
import type { HabitForm } from '../habit.ts'
import type { Sampled } from '../resample.ts'
import type { HoleOutcome } from '../score.ts'

type Json = Readonly<Record<string, never>>

const jsonOf = <T>(path: string): T => JSON.parse(readFileSync(path, 'utf8')) as T

interface TrialPapers {
  readonly sample_rate_hz: number
  readonly rotation_rpm_nominal: number
  readonly hole_diameter_mm: number
  readonly grip_mm: number
  readonly equipment: { readonly lobe_spacing_mm: number }
  readonly technique: { readonly alarm: { readonly notch: string; readonly share: number } }
  readonly reference_standard: Omit<HoleStandard, 'notches' | 'angle_datum' | 'id'> & {
    readonly notches: readonly Omit<HoleStandard['notches'][number], 'id'>[]
  }
}

interface TrialHole {
  readonly flaws: readonly (Json & HoleOutcome['truth']['flaws'][number])[]
  readonly fault: string | null
}

export interface TrialJob {
  readonly form: HabitForm
  readonly recording: (name: string) => Sampled
  /** holes by name; a fault of any kind stands as `in air` */
  readonly truths: ReadonlyMap<string, HoleOutcome['truth']>
}

export function trialJob(folder: string): TrialJob {
  const papers = jsonOf<TrialPapers>(join(folder, 'setup.json'))
  const truth = jsonOf<Readonly<Record<string, TrialHole>>>(join(folder, 'truth.json'))
  const { notches, ...standard } = papers.reference_standard
  return {
    form: {
      technique: {
        lobe_spacing_mm: papers.equipment.lobe_spacing_mm,
        rotation_rpm: papers.rotation_rpm_nominal,
        alarm: papers.technique.alarm
      },
      standard: {
        ...standard,
        id: 'trial',
        angle_datum: 'index pulse',
        notches: notches.map((notch) => ({ ...notch, id: `${notch.place} ${notch.depth_mm} mm` }))
      },
      hole: { diameter_mm: papers.hole_diameter_mm, grip_mm: papers.grip_mm }
    },
    recording: (name) => recordingOf(folder, name, papers.sample_rate_hz),
    truths: new Map(
      Object.entries(truth).map(([name, { flaws, fault }]) => [
        name,
        { flaws, nuisances: [], fault: fault === null ? 'none' : 'in air' }
      ])
    )
  }
}

function recordingOf(folder: string, name: string, rate_Hz: number): Sampled {
  const wave = join(folder, `${name}.wav`)
  const columns = existsSync(wave) ? waveColumns(readFileSync(wave)) : textColumns(join(folder, `${name}.csv`))
  return { rate_Hz, x: columns[0]!, y: columns[1]!, index: columns[2]! }
}

/** Three channels of 32-bit floats. */
function waveColumns(bytes: Buffer): readonly Float64Array[] {
  const data = bytes.indexOf('data')
  const frames = Math.floor((bytes.length - data - 8) / 12)
  return [0, 1, 2].map((channel) =>
    Float64Array.from({ length: frames }, (_, i) => bytes.readFloatLE(data + 8 + 12 * i + 4 * channel))
  )
}

function textColumns(path: string): readonly Float64Array[] {
  const [head = '', ...lines] = readFileSync(path, 'utf8').trim().split(/\r?\n/)
  const names = head.split(',')
  const rows = lines.map((line) => line.split(',').map(Number))
  return ['x_V', 'y_V', 'index'].map((name) => Float64Array.from(rows, (row) => row[names.indexOf(name)]!))
}
