import { PI } from '@trueloop/ground/numerics'
import { bellWidth } from '../footprint.ts'
import { revolutionsOver } from '../passes.ts'
import type { HoleSheet } from '../sheet.ts'

/** Speed, sampling, pitch and time. */
export interface MotionAdvice {
  readonly surface_speed_mm_s: number
  /** Time that the footprint takes over a point of the wall, ms. */
  readonly pulse_ms: number
  readonly sample_rate_least_Hz: number
  readonly samples_per_revolution_least: number
  /** Revolutions that answer to the flaw sought at the stated pitch, and at the largest that counts as covered. */
  readonly passes: number
  readonly passes_at_most_pitch: number
  /** Advance a revolution for the wanted passes. */
  readonly pitch_for_passes_mm?: number
  readonly time: JobTime
}

export interface JobTime {
  readonly holes: number
  readonly scanning_s: number
  /** With the stated time for handling; absent where none is stated. */
  readonly whole_s?: number
}

/** Samples that a pulse keeps at least; a rule of ours, derived from pulse width (trade practice, no source). */
const SAMPLES_A_PULSE = 10

/** For the widest hole of the sheet, where the wall passes fastest. */
export function motionAdvice(sheet: HoleSheet): MotionAdvice {
  const { technique, holes } = sheet
  const diameter_mm = Math.max(...holes.map((hole) => hole.diameter_mm))
  const width_mm = bellWidth(technique.lobe_spacing_mm)
  const around_mm = PI * diameter_mm
  const speed = (around_mm * technique.rotation_rpm) / 60
  const { length } = technique.target_flaw_mm
  const pitch = technique.pitch_mm ?? technique.max_pitch_mm
  const wanted = technique.wanted?.passes
  return {
    surface_speed_mm_s: speed,
    pulse_ms: (1000 * width_mm) / speed,
    sample_rate_least_Hz: (SAMPLES_A_PULSE * speed) / width_mm,
    samples_per_revolution_least: (SAMPLES_A_PULSE * around_mm) / width_mm,
    passes: revolutionsOver(length, width_mm, pitch),
    passes_at_most_pitch: revolutionsOver(length, width_mm, technique.max_pitch_mm),
    ...(wanted === undefined ? {} : { pitch_for_passes_mm: (length + width_mm) / wanted }),
    time: timeOf(sheet, pitch)
  }
}

function timeOf({ technique, holes }: HoleSheet, pitch_mm: number): JobTime {
  const grips_mm = holes.reduce((sum, { grip_mm }) => sum + grip_mm, 0)
  const scanning_s = (grips_mm / pitch_mm / technique.rotation_rpm) * 60
  const handling = technique.wanted?.handling_s
  return {
    holes: holes.length,
    scanning_s,
    ...(handling === undefined ? {} : { whole_s: scanning_s + handling * holes.length })
  }
}
