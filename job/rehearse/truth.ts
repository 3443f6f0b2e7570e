import { folded } from './bell.ts'
import { passesOf, samplesOf, timeOfTurn, turnsOf } from './motion.ts'
import type { Damage, Fault, Feature, Flaw, HoleScene } from './scene.ts'
import { touchesFace } from './shapes.ts'

/**
 * What is really there. Angles in degrees, 0 to 360, from the rising edge of the index in the sense of rotation; depths in
 * mm from the entry face.
 */
export interface Truth {
  readonly flaws: readonly TrueFlaw[]
  readonly nuisances: readonly Nuisance[]
  readonly fault: Fault['kind']
  /** times at which the middle of the pair passes the entry face first and the exit face last; absent if it never does */
  readonly entry_s?: number
  readonly exit_s?: number
  readonly samples: number
  readonly revolutions: number
}

export interface TrueFlaw {
  readonly kind: 'notch' | 'crack'
  /** a corner flaw touches a face of a layer */
  readonly place: 'corner' | 'mid-bore'
  readonly depth_mm: number
  readonly length_mm: number
  readonly angle_deg: number
  readonly z0_mm: number
  readonly z1_mm: number
}

/** Anything that is no flaw. Where it has no angle it is all around, where it has no depth it is everywhere. */
export interface Nuisance {
  readonly kind: NuisanceKind
  readonly angle_deg?: number
  readonly z0_mm?: number
  readonly z1_mm?: number
}

export type NuisanceKind =
  | Damage['kind']
  | Feature['kind']
  | ('loose particle' | 'spikes' | 'bursts' | 'hum' | 'marks' | 'probe tilt' | 'oversize hole' | 'countersink')

/** The truth of a scene. */
export function truthOf(scene: HoleScene): Truth {
  const entry = passesOf(scene, 0)[0]
  const exit = passesOf(scene, scene.hole.grip_m).at(-1)
  return {
    flaws: scene.flaws.map((flaw) => trueFlaw(scene, flaw)),
    nuisances: [
      ...scene.damage.map((damage) => damageOf(scene, damage)),
      ...(scene.features ?? []).map((feature) => featureOf(scene, feature)),
      ...disturbancesOf(scene),
      ...fitOf(scene)
    ],
    fault: scene.fault.kind,
    ...(entry === undefined ? {} : { entry_s: timeOfTurn(scene.motion, entry) }),
    ...(exit === undefined ? {} : { exit_s: timeOfTurn(scene.motion, exit) }),
    samples: samplesOf(scene),
    revolutions: turnsOf(scene)
  }
}

function trueFlaw(scene: HoleScene, flaw: Flaw): TrueFlaw {
  return {
    kind: flaw.kind,
    place: touchesFace(scene, flaw) ? 'corner' : 'mid-bore',
    depth_mm: flaw.depth_m * 1000,
    length_mm: flaw.length_m * 1000,
    ...placeOf(scene, flaw)
  }
}

const placeOf = (scene: HoleScene, one: { angle_turn: number; z0_m: number; z1_m: number }) => ({
  angle_deg: fromIndex(scene, one.angle_turn),
  z0_mm: one.z0_m * 1000,
  z1_mm: one.z1_m * 1000
})

/** Degrees from the index edge, in the sense of rotation. */
function fromIndex({ motion, recorder: { index } }: HoleScene, wall: number): number {
  const turns = motion.sense * (wall - index.datum_turn)
  return 360 * (turns - Math.floor(turns))
}

const damageOf = (scene: HoleScene, one: Damage): Nuisance =>
  one.kind === 'chatter' || (one.kind === 'fretting' && one.width_m === 0)
    ? { kind: one.kind, ...depthsOfExtent(one) }
    : { kind: one.kind, ...placeOf(scene, one) }

const depthsOfExtent = ({ z0_m, z1_m }: { z0_m: number; z1_m: number }) => ({
  z0_mm: z0_m * 1000,
  z1_mm: z1_m * 1000
})

/** What is all around has no angle. */
function featureOf(scene: HoleScene, one: Feature): Nuisance {
  switch (one.kind) {
    case 'bushing':
    case 'cladding':
      return { kind: one.kind, ...depthsOfExtent(one) }
    case 'neighbor metal':
      return { kind: one.kind, ...depthsOfExtent(between(one.z_m, one.z_m + one.side * one.reach_m)) }
    case 'sealant': {
      const half = one.thickness_m / 2
      return { kind: one.kind, ...placeOf(scene, { ...one, z0_m: one.z_m - half, z1_m: one.z_m + half }) }
    }
    default:
      return { kind: one.kind, ...placeOf(scene, one) }
  }
}

const between = (a: number, b: number) => ({ z0_m: Math.min(a, b), z1_m: Math.max(a, b) })

/** How the probe fits: askew, loose, or beside a cone at the entry. */
function fitOf({ hole: { gap }, probe: { tilt } }: HoleScene): readonly Nuisance[] {
  const cone = gap?.countersink.depth_m ?? 0
  return [
    ...(tilt === undefined ? [] : [{ kind: 'probe tilt' as const }]),
    ...(gap === undefined || gap.oversize_m === 0 ? [] : [{ kind: 'oversize hole' as const }]),
    ...(cone === 0 ? [] : [{ kind: 'countersink' as const, z0_mm: 0, z1_mm: 1000 * cone }])
  ]
}

function disturbancesOf(scene: HoleScene): readonly Nuisance[] {
  const { particles, spikes, bursts, hum } = scene.disturbances
  const { none, lost, doubled, bounced } = scene.recorder.index.marks
  const moving = particles.map(({ z0_m, z1_m }) => ({
    kind: 'loose particle' as const,
    z0_mm: z0_m * 1000,
    z1_mm: z1_m * 1000
  }))
  return [
    ...moving,
    ...(spikes.count > 0 ? [{ kind: 'spikes' as const }] : []),
    ...((bursts?.count ?? 0) > 0 ? [{ kind: 'bursts' as const }] : []),
    ...(hum.size > 0 ? [{ kind: 'hum' as const }] : []),
    ...(none || lost.length + doubled.length + bounced.length > 0 ? [{ kind: 'marks' as const }] : [])
  ]
}

/** Angular distance in degrees, the short way around. */
export const degreesApart = (a: number, b: number): number => Math.abs(360 * folded((a - b) / 360))
