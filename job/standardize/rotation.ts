import { atan2, cos, principalAxes, type Random, robustScatter, type Symmetric2, sin } from '@trueloop/ground/numerics'
import { isRefusal, type Result } from '@trueloop/ground/refusal'
import type { HoleStandard } from '../plan/index.ts'
import { UNIT } from '../signal/index.ts'
import { refuse } from './codes.ts'
import { angleBetween, angleOf, type DepthScale, depthAt } from './place.ts'
import type { Wall } from './wall.ts'

export interface Rotation {
  /** angle of the lift-off direction in the recorded plane, rad, known as a line only */
  readonly axis_rad: number
  readonly uncertainty_rad: number
  readonly axisRatio: number
  readonly points: number
}

/** Where the wall must be clear for its vibration noise to give the lift-off direction. */
export interface ClearOf {
  readonly faces_m: number
  readonly notchDepth_m: number
  readonly notchAngle_deg: number
}

export const clearOf = (lobeSpacing_m: number): ClearOf => ({
  faces_m: 1.5e-3,
  notchDepth_m: lobeSpacing_m + 1e-3,
  notchAngle_deg: 45
})

const DOF = 3
const LEAST_RATIO = 2
const MOST_UNCERTAINTY_DEG = 3
const RESAMPLES = 200
/** Points of the cloud that the bootstrap is content with: it only gives an uncertainty. */
const BOOTSTRAP_EVERY = 2
const LEAST_REVOLUTIONS = 6
const LEAST_POINTS = 400
const DEG = 0.017453292519943295

/** Ruler points of the wall clear of notches and faces: true where the vibration of the probe is all there is. */
export function clearPoints(wall: Wall, scale: DepthScale, standard: HoleStandard, clear: ClearOf): Uint8Array {
  const free = new Uint8Array(wall.length)
  const thickness = standard.thickness_mm * 1e-3
  for (let i = 0; i < wall.length; i++) {
    const z = depthAt(scale, wall.first + i)
    if (z < clear.faces_m || z > thickness - clear.faces_m) continue
    const angle = angleOf(wall.first + i)
    const near = standard.notches.some(
      (notch) =>
        z > notch.z0_mm * 1e-3 - clear.notchDepth_m &&
        z < notch.z1_mm * 1e-3 + clear.notchDepth_m &&
        Math.abs(angleBetween(angle, notch.angle_deg)) < clear.notchAngle_deg
    )
    if (!near) free[i] = 1
  }
  return free
}

/**
 * Lift-off direction from the vibration noise of a clear wall: the major axis of the robust covariance of the placed
 * signal less its sliding mean, before any band. Uncertainty by bootstrap over revolutions.
 * Refuses `standardize/too-little-wall`, `standardize/rotation-undetermined` (axis ratio below 2),
 * `standardize/rotation-uncertain` (above 3°).
 */
export function liftOffAxis(wall: Wall, free: Uint8Array, random: Random): Result<Rotation> {
  const cloud = freeCloud(wall, free, 1)
  const revolutions = new Set(cloud.revolution)
  if (cloud.x.length < LEAST_POINTS || revolutions.size < LEAST_REVOLUTIONS) return tooLittle(cloud.x.length)
  const whole = axesOf(cloud.x, cloud.y)
  if (isRefusal(whole)) return whole
  const axisRatio = Math.sqrt(whole.major / whole.minor)
  if (!(axisRatio >= LEAST_RATIO)) return undetermined(axisRatio)
  const uncertainty_rad = bootstrap(freeCloud(wall, free, BOOTSTRAP_EVERY), [...revolutions], {
    random,
    about: whole.angle_rad
  })
  if (isRefusal(uncertainty_rad)) return uncertainty_rad
  if (uncertainty_rad > MOST_UNCERTAINTY_DEG * DEG) return uncertain(uncertainty_rad / DEG)
  return { axis_rad: whole.angle_rad, uncertainty_rad, axisRatio, points: cloud.x.length }
}

/** A sense is told by a step that leaves the line across the axis by so many times the axis' uncertainty. */
const SENSE_TIMES = 3

/**
 * Sense of the lift-off axis: 1 or −1, the factor that makes the step from metal to air point to −x along it. Refuses
 * `standardize/rotation-uncertain` where the step lies across the axis: no angle between the two is presumed, only told.
 */
export function senseOf(
  { axis_rad, uncertainty_rad }: Rotation,
  step: { readonly x: number; readonly y: number }
): Result<1 | -1> {
  const along = step.x * cos(axis_rad) + step.y * sin(axis_rad)
  const across = step.y * cos(axis_rad) - step.x * sin(axis_rad)
  const fromAcross = atan2(Math.abs(along), Math.abs(across))
  if (fromAcross > SENSE_TIMES * uncertainty_rad) return along > 0 ? -1 : 1
  return refuse('standardize/rotation-uncertain', {
    found: `a step between air and metal ${(fromAcross / DEG).toFixed(1)}° from the line across lift-off: its sense is not told`,
    needed: `${((SENSE_TIMES * uncertainty_rad) / DEG).toFixed(1)}° or more: three times the uncertainty of the lift-off direction`,
    remedy: again
  })
}

interface RevolutionCloud {
  readonly x: Float64Array
  readonly y: Float64Array
  readonly revolution: readonly number[]
}

function freeCloud(wall: Wall, free: Uint8Array, every: number): RevolutionCloud {
  const at: number[] = []
  for (let i = 0; i < wall.length; i += every) if (free[i] === 1) at.push(i)
  return {
    x: Float64Array.from(at, (i) => wall.restX[i]!),
    y: Float64Array.from(at, (i) => wall.restY[i]!),
    revolution: at.map((i) => Math.floor((wall.first + i) / UNIT))
  }
}

function axesOf(x: Float64Array, y: Float64Array, weights?: Float64Array) {
  const scatter = robustScatter(weights === undefined ? { x, y } : { x, y, weights }, DOF)
  if (isRefusal(scatter)) return undetermined(Number.NaN)
  return principalAxes(scatter satisfies Symmetric2)
}

function bootstrap(
  cloud: RevolutionCloud,
  revolutions: readonly number[],
  { random, about }: { readonly random: Random; readonly about: number }
): Result<number> {
  let sum = 0
  const draw = random
  for (let k = 0; k < RESAMPLES; k++) {
    const times = new Map<number, number>()
    for (let i = 0; i < revolutions.length; i++) {
      const which = revolutions[draw.below(revolutions.length)]!
      times.set(which, (times.get(which) ?? 0) + 1)
    }
    const weights = Float64Array.from(cloud.revolution, (revolution) => times.get(revolution) ?? 0)
    const axes = axesOf(cloud.x, cloud.y, weights)
    if (isRefusal(axes)) return axes
    const turn = 2 * (axes.angle_rad - about)
    const off = 0.5 * atan2(sin(turn), cos(turn))
    sum += off * off
  }
  return Math.sqrt(sum / RESAMPLES)
}

const again = 'scan the reference standard again with the probe running freely; check its fit, the tape and the cable'

const tooLittle = (points: number) =>
  refuse('standardize/too-little-wall', {
    found: `${points} points of wall clear of notches and faces`,
    needed: `${LEAST_POINTS} points in ${LEAST_REVOLUTIONS} revolutions`,
    remedy: 'use a smaller pitch, or a reference standard whose notches leave some wall free'
  })

const undetermined = (ratio: number) =>
  refuse('standardize/rotation-undetermined', {
    found: `vibration noise with an axis ratio of ${ratio.toFixed(2)}`,
    needed: `${LEAST_RATIO} or more, so that the noise has a direction`,
    remedy: again
  })

const uncertain = (deg: number) =>
  refuse('standardize/rotation-uncertain', {
    found: `a lift-off direction known to ${deg.toFixed(1)}°`,
    needed: `${MOST_UNCERTAINTY_DEG}° or better`,
    remedy: again
  })
