import { median, PI, quantile } from '@trueloop/ground/numerics'
import { isRefusal, type Result } from '@trueloop/ground/refusal'
import type { WeldTechnique } from '../plan/index.ts'
import type { PlaceBasis } from '../signal/index.ts'
import { scaleOf } from './coating-response.ts'
import { refuse } from './codes.ts'
import { liftOffLine } from './lift-off.ts'
import type { CoatingResponse, Standardization } from './standardization.ts'
import { type GatheredRun, type TrackReading, trackReading } from './track-run.ts'

/** What flat parent metal beside a track shows: its coating, and whether the block is of the same metal. */
export interface ParentReading {
  readonly kind: 'parent metal'
  readonly recording: string
  readonly length_mm: number
  /** absent where the absolute channel is missing */
  readonly coating?: { readonly least_mm: number; readonly median_mm: number; readonly greatest_mm: number }
  readonly liftOff: {
    /** from the block's lift-off line to the part's, rad, −π/2 to π/2 */
    readonly off_rad: number
    readonly doubt_rad: number
  }
}

export interface ParentInput {
  readonly technique: WeldTechnique
  readonly standardization: Standardization
  readonly rate_Hz: number
  readonly recording: string
  readonly places?: PlaceBasis
}

const DEG = 0.017453292519943295
/** How far the lift-off line of the part may lie from the block's: ISO 17643 by memory, a field procedure repeats it. */
export const MOST_OFF_DEG = 5

/**
 * Opens the reading of a run on flat parent metal under the paint of a track. Refuses `standardize/part-differs` where the
 * block is of another metal, `standardize/coating-outside-shims`, `standardize/clipped`,
 * `standardize/rotation-undetermined`, and what the ruler refuses.
 */
export function openParent(input: ParentInput): TrackReading<ParentReading> {
  return trackReading(input, (gathered) => readParent(input, gathered))
}

function readParent({ standardization, recording }: ParentInput, gathered: GatheredRun): Result<ParentReading> {
  const { run, travel, step_m, field } = gathered
  const line = liftOffLine(run, [...run.at.keys()], Math.round(field / step_m))
  if (isRefusal(line)) return line
  const { coating: response } = standardization
  const block = response?.liftOff ?? {
    angle_rad: standardization.rotation.angle_rad,
    doubt_rad: standardization.rotation.uncertainty_rad
  }
  const off_rad = lineBetween(line.angle_rad, block.angle_rad)
  const doubt_rad = Math.sqrt(line.doubt_rad * line.doubt_rad + block.doubt_rad * block.doubt_rad)
  if (Math.abs(off_rad) > MOST_OFF_DEG * DEG) return partDiffers(off_rad, doubt_rad)
  const coating = response === undefined ? undefined : coatingOf(run.a, response)
  if (isRefusal(coating)) return coating
  return {
    kind: 'parent metal',
    recording,
    length_mm: 1e3 * step_m * (travel.to - travel.from),
    ...(coating === undefined ? {} : { coating }),
    liftOff: { off_rad, doubt_rad }
  }
}

/** Signed angle from one line to another. */
function lineBetween(a: number, b: number): number {
  const turns = (a - b) / PI
  return PI * (turns - Math.floor(turns + 0.5))
}

/** Outside the shims where more than this share of the run is: single points are the noise's. */
const OUTSIDE_SHARE = 0.01

function coatingOf(absolute: readonly number[], response: CoatingResponse): Result<ParentReading['coating']> {
  const scale = scaleOf(response.shims)
  const levels = absolute.filter((value) => !Number.isNaN(value))
  if (scale === undefined || levels.length === 0) return undefined
  const read = levels.map((level) => scale.read(level))
  const inside = read.filter((one) => typeof one === 'number')
  if (read.length - inside.length > OUTSIDE_SHARE * read.length) {
    const beyond = read.find((one) => typeof one === 'string')!
    return outsideShims(beyond, scale)
  }
  return {
    least_mm: quantileOf(inside, 0),
    median_mm: median(inside),
    greatest_mm: quantileOf(inside, 1)
  }
}

const quantileOf = (values: readonly number[], p: number): number => quantile(values, p)

const partDiffers = (off_rad: number, doubt_rad: number) =>
  refuse('standardize/part-differs', {
    found: `lift-off on the part ${(off_rad / DEG).toFixed(1)}° from that on the block (known to ${(doubt_rad / DEG).toFixed(1)}°)`,
    needed: `within ${MOST_OFF_DEG}°`,
    remedy: 'take a block of the metal of the part, and standardize on it'
  })

const outsideShims = (found: string, { least_mm, most_mm }: { readonly least_mm: number; readonly most_mm: number }) =>
  refuse('standardize/coating-outside-shims', {
    found: `parent metal under a coating ${found}`,
    needed: `${least_mm.toFixed(1)} to ${most_mm.toFixed(1)} mm, as the shims on the block`,
    remedy: 'standardize with shims that reach the coating, as far as the procedure allows, or take the coating off'
  })
