import type { Nuisance, TrueFlaw, Truth } from '@trueloop/job/rehearse'
import type { TrialSetup } from './setup.ts'

/** `truth.json` of a trial job with holes. */
export type TrialTruth = Readonly<Record<string, TrueHole>>

interface TrueHole {
  readonly flaws: readonly Omit<TrueFlaw, 'place'>[]
  readonly fault: string | null
  readonly nonrelevant: {
    readonly scratches?: readonly { readonly angle: number }[]
    readonly galling?: readonly { readonly angle: number; readonly z: number }[]
    readonly chips?: readonly { readonly angle: number; readonly z: number }[]
    readonly chatter?: number
    readonly spikes?: number
    readonly hum?: number
    readonly missing_index?: number
  }
}

/** A face counts as touched within this: the truth places corner flaws exactly on it. */
const touching_mm = 1e-6

export function truthOfHole({ flaws, fault, nonrelevant }: TrueHole, setup: TrialSetup) {
  const faces = [0, ...setup.interfaces_mm, setup.grip_mm]
  const touches = (z: number): boolean => faces.some((face) => Math.abs(face - z) < touching_mm)
  const placed = flaws.map((flaw): TrueFlaw => {
    const { depth_mm, length_mm, angle_deg, z0_mm, z1_mm } = flaw
    const place = touches(z0_mm) || touches(z1_mm) ? 'corner' : 'mid-bore'
    return { kind: 'crack', place, depth_mm, length_mm, angle_deg, z0_mm, z1_mm }
  })
  return { flaws: placed, nuisances: nuisancesOf(nonrelevant), fault: faultOf(fault) }
}

function nuisancesOf({
  scratches = [],
  galling = [],
  chips = [],
  ...rest
}: TrueHole['nonrelevant']): readonly Nuisance[] {
  const spot = (kind: Nuisance['kind']) => (one: { angle: number; z: number }) => ({
    ...{ kind, angle_deg: one.angle, z0_mm: one.z, z1_mm: one.z }
  })
  return [
    ...scratches.map(({ angle }) => ({ kind: 'scratch' as const, angle_deg: angle })),
    ...galling.map(spot('galled patch')),
    ...chips.map(spot('loose particle')),
    ...(rest.chatter === undefined ? [] : [{ kind: 'chatter' as const }]),
    ...(rest.spikes === undefined ? [] : [{ kind: 'spikes' as const }]),
    ...(rest.hum === undefined ? [] : [{ kind: 'hum' as const }]),
    ...(rest.missing_index === undefined ? [] : [{ kind: 'marks' as const }])
  ]
}

function faultOf(fault: string | null): Truth['fault'] {
  if (fault === null) return 'none'
  if (fault.startsWith('gain')) return 'gain change'
  if (fault === 'in-air') return 'in air'
  throw new Error(`the trial has a fault of an unknown kind: ${fault}`)
}
