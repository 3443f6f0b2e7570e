import { atan2, cos, PI, sin } from '@trueloop/ground/numerics'
import { type Covariance, type Detection, scaled, selfAnswer } from '../interpret/index.ts'
import { bellWidth } from '../plan/index.ts'
import { type Band, bandedPulse, gridStep, joiningWeights, type ScanKernels, scanKernels } from '../signal/index.ts'
import { bandOf, type NotchReading, spacingOf, unitShape } from '../standardize/index.ts'
import type { HoleExamination } from './hole-input.ts'
import { twinOf } from './hole-twins.ts'

/** The technique's alarm level: as a share of the named notch, and as vertical peak-to-peak, standardized. */
export interface Alarm {
  readonly share: number
  readonly swing: number
}

/** How a hole is looked at: what technique and standardization make of a wall, settled before the first sample. */
export interface Look {
  readonly band: Band
  readonly step: number
  readonly kernels: ScanKernels
  /** by which neighboring revolutions are joined, and how many to each side that is */
  readonly weights: Float64Array
  readonly reach: number
  /** noise of the fitted size on the reference's clear wall, of one revolution and joined */
  readonly noise: { readonly single: Covariance; readonly joined: Covariance }
  /** angles of the notches that stand well out of the noise, as lines, and that of the named one */
  readonly notchPhases: readonly number[]
  readonly namedPhase: number
  readonly direction: { readonly x: number; readonly y: number }
  readonly alarm: Alarm
  /** distance of the notch's lobes, and width of the field along the axis over the pitch */
  readonly spacing: number
  readonly perWidth: number
  /** distance along the axis of the two maxima of a short flaw at mid-bore, m; undefined where the notches have but one */
  readonly twin_m: number | undefined
  /** what the fit of the shape shows around a flaw */
  readonly answer: Float64Array
}

/** Looks that were settled before: holes of a job share technique, standardization and diameter. */
const settled = new WeakMap<HoleExamination['standardization'], Settled>()

interface Settled {
  readonly technique: HoleExamination['technique']
  readonly diameter_mm: number
  readonly numbers: Detection
  readonly left: number
  readonly look: Look
}

/** @param left least share of an answer that is left in this hole: the alarm level is lowered by it, and never raised */
export function lookOf(input: HoleExamination, numbers: Detection, left = 1): Look {
  const { technique, standardization, hole } = input
  const { diameter_mm } = hole
  const before = settled.get(standardization)
  const isSame = before?.technique === technique && before.diameter_mm === diameter_mm && before.left === left
  if (isSame && areSame(before.numbers, numbers)) return before.look
  const look = freshLook(input, numbers, left)
  settled.set(standardization, { technique, diameter_mm, numbers, left, look })
  return look
}

/** Declared numbers are one record as long as none was moved. */
const areSame = (a: Detection, b: Detection): boolean => a === b || JSON.stringify(a) === JSON.stringify(b)

function freshLook(input: HoleExamination, numbers: Detection, left: number): Look {
  const { technique, standardization, hole } = input
  const band = bandOf(technique, hole.diameter_mm)
  const step = gridStep(band)
  const pitch = technique.pitch_mm ?? technique.max_pitch_mm
  const perWidth = bellWidth(technique.lobe_spacing_mm) / pitch
  const weights = joiningWeights(perWidth)
  const shape = unitShape(standardization.form)
  const spacing = spacingOf(technique, hole.diameter_mm)
  const namedPhase = phaseOf(standardization.notches.find(({ id }) => id === standardization.named)!)
  return {
    band,
    step,
    kernels: scanKernels({ band, turn: standardization.turn, shape, step }),
    weights,
    reach: weights.length - 1,
    noise: noiseOf(input, { perWidth, weights }),
    notchPhases: phasesOf(standardization.notches, namedPhase, numbers),
    namedPhase,
    direction: { x: cos(namedPhase), y: sin(namedPhase) },
    alarm: alarmOf(input, left),
    spacing,
    perWidth,
    twin_m: twinOf(standardization, 2e-3 * technique.lobe_spacing_mm),
    answer: selfAnswer(shape, bandedPulse(band, spacing))
  }
}

/**
 * Joined over fewer revolutions than in the reference scan a size has more noise: as for noise that is new in every
 * revolution. Over more it is taken to have no less.
 */
function noiseOf(
  { standardization }: HoleExamination,
  { perWidth, weights }: { readonly perWidth: number; readonly weights: Float64Array }
): Look['noise'] {
  const { sizeNoise: single = NONE, joinedNoise } = standardization
  const enough = joinedNoise !== undefined && joinedNoise.points >= LEAST_JOINED
  if (!enough) return { single, joined: scaled(single, squareOf(weights)) }
  return { single, joined: scaled(joinedNoise, Math.max(1, joinedNoise.perWidth / perWidth)) }
}

/** Places on the clear wall from which on the reference tells the noise of joined sizes; else it is taken as new in every revolution. */
const LEAST_JOINED = 400

/** Variance of joined sizes over that of single ones, for noise that is new in every revolution. */
export const squareOf = (weights: Float64Array): number =>
  weights.reduce((sum, w, r) => sum + (r === 0 ? 1 : 2) * w * w, 0)

const NONE: Covariance = { xx: 0, xy: 0, yy: 0 }

/**
 * A share of the named notch; its vertical peak-to-peak comes from the form that the reference scan gave. Lower where an
 * oversize hole weakens answers: what would cross the alarm in the standard's hole crosses it here.
 */
function alarmOf({ technique, standardization }: HoleExamination, left: number): Alarm {
  const { y } = standardization.form
  const vertical = Math.max(...y) - Math.min(...y)
  const share = technique.alarm.share * Math.min(1, left)
  return { share, swing: share * vertical }
}

const phaseOf = ({ fitted }: NotchReading): number => lineOf(fitted.x, fitted.y)

/** Notches whose own noise leaves their angle open say nothing of the angles of flaws; the named one always does. */
function phasesOf(notches: readonly NotchReading[], named: number, { phaseFrom }: Detection): readonly number[] {
  const sure = notches.filter(({ fitted, fittedNoise }) => {
    const noise = fittedNoise.x * fittedNoise.x + fittedNoise.y * fittedNoise.y
    return fitted.x * fitted.x + fitted.y * fitted.y >= phaseFrom * phaseFrom * noise
  })
  return [named, ...sure.map(phaseOf)]
}

function lineOf(x: number, y: number): number {
  const angle = atan2(y, x)
  return angle < 0 ? angle + PI : angle >= PI ? angle - PI : angle
}
