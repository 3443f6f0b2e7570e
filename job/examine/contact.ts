import { atan2, PI } from '@trueloop/ground/numerics'
import type { Refusal } from '@trueloop/ground/refusal'
import type { Edges, Standardization } from '../standardize/index.ts'
import { refuse } from './codes.ts'
import type { Coverage } from './examination.ts'
import { type Channels, stillOf } from './extent.ts'
import type { MotionAxis } from './wall-motion.ts'

type Check = Coverage['contact'][number]

/**
 * Limits for the proof that the probe was in the metal, against the reference scan: size and angle of the steps between
 * air and metal, motion of the wall signal and its direction, both channels moving. A step may differ by three times
 * what the two faces of the reference differ by, and by 15 % and 10° at least: what another fit, tape or edge of the
 * same hole class does. The wall vibrates along lift-off, wherever the probe is; joints and scratches turn the axis by
 * less than 10° in all recordings at hand, so 15° speak of another plane. No source.
 */
const LEAST_STEP_SHARE = 0.15
const STEP_ANGLE_DEG = 10
const SPREADS = 3
const LEAST_MOTION = 0.2
const MOTION_ANGLE_DEG = 15
const LEAST_AXIS_RATIO = 3
const LEAST_COUNTED = 1024
/** Steps below this share of the reference's, at both faces, are no steps: the probe was in air. */
const AIR_SHARE = 0.1
const DEG = PI / 180

export interface Contact {
  readonly checks: readonly Check[]
  readonly refused: readonly Refusal[]
  /** no step worth the name at either face: then nothing is known of the place either */
  readonly inAir: boolean
}

/** Motion of the wall signal while the probe was in the metal: median size, standardized, of how many points; direction. */
export interface Motion {
  readonly median: number
  readonly counted: number
  axis(): MotionAxis | undefined
}

/** One pass through the metal as it is told in a check: the faces in the order met, and which pass it is. */
export interface PassName {
  readonly faces: readonly [string, string]
  readonly pass: string
}

const ONE_PASS: PassName = { faces: ['entry face', 'exit face'], pass: '' }

export interface Moving {
  readonly motion: Motion
  readonly channels: Channels
  /** absent: the only pass, from the entry face to the exit face */
  readonly named?: PassName
  /** least share of an answer that an oversize hole leaves: steps and motion may be smaller by so much */
  readonly left?: number
}

/** Judges steps and wall motion; where the steps already fail, no wall was recognized and its motion says nothing. */
export function proveContact(
  edges: Edges,
  standardization: Standardization,
  { motion, channels, named = ONE_PASS, left = 1 }: Moving
): Contact {
  const { faces, pass } = named
  const steps = [
    stepOf(`${faces[0]}${pass}`, edges.entryStep, { standardization, left }),
    stepOf(`${faces[1]}${pass}`, edges.exitStep, { standardization, left })
  ] as const
  const still = channelChecks(channels)
  const inAir = still.every(({ met }) => met) && steps.every(({ share }) => share < AIR_SHARE)
  const stepChecks = steps.flatMap(({ checks }) => checks)
  const wall = motion.counted > 0 || stepChecks.every((check) => check.met)
  const checks = [
    ...still,
    ...stepChecks,
    ...(wall ? [motionCheck(motion.median, standardization.wallMotion, { pass, left })] : []),
    ...(motion.counted >= LEAST_COUNTED ? directionChecks(motion.axis(), pass) : [])
  ]
  const failed = checks.filter((check) => !check.met)
  return { checks, refused: inAir ? [air(steps[0].share, steps[1].share)] : failed.map(refusalOf), inAir }
}

interface Step {
  readonly share: number
  readonly checks: readonly Check[]
}

interface Expected {
  readonly standardization: Standardization
  readonly left: number
}

function stepOf(face: string, step: { x: number; y: number }, { standardization, left }: Expected): Step {
  const { airStep, turn } = standardization
  const x = step.x * turn.x - step.y * turn.y
  const y = step.x * turn.y + step.y * turn.x
  const share = Math.sqrt((x * x + y * y) / (airStep.x * airStep.x + airStep.y * airStep.y))
  const limit = Math.max(LEAST_STEP_SHARE, SPREADS * airStep.spread)
  const angle = atan2(y * airStep.x - x * airStep.y, x * airStep.x + y * airStep.y) / DEG
  const size: Check = {
    check: `size of the step at the ${face}`,
    found: `${percent(share)} of the reference scan`,
    needed: `${percent((1 - limit) * left)} to ${percent(1 + limit)}`,
    met: Math.abs(share - 1) <= limit || (share < 1 && share >= (1 - limit) * left)
  }
  const direction: Check = {
    check: `angle of the step at the ${face}`,
    found: `${angle.toFixed(1)}° from the reference scan`,
    needed: `within ${STEP_ANGLE_DEG}°`,
    met: Math.abs(angle) <= STEP_ANGLE_DEG
  }
  return { share, checks: [size, direction] }
}

const percent = (share: number): string => `${(100 * share).toFixed(0)} %`

function motionCheck(
  found: number,
  reference: number,
  { pass, left }: { readonly pass: string; readonly left: number }
): Check {
  const share = reference > 0 ? found / reference : 0
  return {
    check: `motion of the wall signal${pass}`,
    found: `${percent(share)} of the reference scan`,
    needed: `${percent(LEAST_MOTION * left)} or more: a live probe shows the wall`,
    met: reference === 0 || share >= LEAST_MOTION * left
  }
}

/** Where the motion has no direction of its own (an axis ratio below 3) it says nothing of the plane. */
function directionChecks(axis: MotionAxis | undefined, pass: string): readonly Check[] {
  if (axis === undefined || axis.ratio < LEAST_AXIS_RATIO) return []
  const angle = axis.angle_rad / DEG
  return [
    {
      check: `direction of the wall motion${pass}`,
      found: `${angle.toFixed(1)}° from the lift-off direction of the reference scan`,
      needed: `within ${MOTION_ANGLE_DEG}°`,
      met: Math.abs(angle) <= MOTION_ANGLE_DEG
    }
  ]
}

function channelChecks(channels: Channels): readonly Check[] {
  const still = stillOf(channels)
  return (['x', 'y'] as const).map((channel) => ({
    check: `channel ${channel}`,
    found: still.includes(channel) ? 'stands still' : 'moves',
    needed: 'both channels move',
    met: !still.includes(channel)
  }))
}

const again =
  'check gain, probe, cable and seat of the probe, recheck on the reference standard and scan the hole again'

function refusalOf({ check, found, needed }: Check): Refusal {
  const dead = check.startsWith('motion') || check.startsWith('channel')
  return refuse(dead ? 'examine/dead-signal' : 'examine/contact-differs', {
    found: `${check}: ${found}`,
    needed,
    remedy: again
  })
}

const air = (entry: number, exit: number): Refusal =>
  refuse('examine/no-contact', {
    found: `steps of ${percent(entry)} and ${percent(exit)} of the reference scan's at the faces: the probe was in air`,
    needed: 'the probe seen to enter the metal and to leave it',
    remedy: 'check that the probe was in the hole and is connected, then scan from air through the whole hole into air'
  })
