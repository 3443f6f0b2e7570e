import type { Refusal } from '@trueloop/ground/refusal'
import { refuse } from '../codes.ts'
import type { Hole, HoleSheet } from '../sheet.ts'
import type { HoleStandard, Notch } from '../standard.ts'
import { pathText, type Step } from '../where.ts'

/** Depths: joints inside the grip, notches inside the reference standard, pitch inside its limit. */

/** How far a written length may be from the difference of two written depths: figures are rounded on certificates. */
const rounding_mm = 0.06

/** Depth by strokes stands on what the technique says of the hand. */
export function checkHandFeed({ technique }: HoleSheet): readonly Refusal[] {
  if (technique.axial_position !== 'hand feed, by strokes' || technique.hand_feed !== undefined) return []
  return [
    refuse('plan/missing-value', {
      found: 'depth by the strokes of a hand, and nothing about them',
      needed: 'the way of the strokes and the largest ratio of fastest to mean feed',
      remedy: 'write technique.hand_feed: { strokes, fastest_to_mean }',
      where: { path: 'technique.hand_feed' }
    })
  ]
}

export function checkPitch({ technique }: HoleSheet): readonly Refusal[] {
  const { pitch_mm: pitch, max_pitch_mm: most, axial_position: axial } = technique
  if (pitch === undefined && axial === 'constant feed')
    return [
      refuse('plan/missing-value', {
        found: 'depth from a constant feed, and no pitch',
        needed: 'the pitch that the feed makes',
        remedy: 'write technique.pitch_mm',
        where: { path: 'technique.pitch_mm' }
      })
    ]
  if (pitch === undefined || pitch <= most) return []
  return [
    refuse('plan/bad-value', {
      found: `a pitch of ${pitch} mm, above the largest that counts as covered, ${most} mm`,
      needed: 'pitch_mm at most max_pitch_mm: nothing would be covered',
      remedy: 'correct the one that is wrong',
      where: { path: 'technique.pitch_mm' }
    })
  ]
}

export function checkHole(hole: Hole, index: number): readonly Refusal[] {
  const steps = ['holes', index]
  const joints = checkJoints(hole.interfaces_mm, { end_mm: hole.grip_mm, end: 'exit face', steps })
  if (hole.layers === undefined || hole.layers.length === hole.interfaces_mm.length + 1) return joints
  return [
    ...joints,
    refuse('plan/bad-value', {
      found: `${hole.layers.length} layers and ${hole.interfaces_mm.length} joints`,
      needed: 'one layer more than joints',
      remedy: 'correct layers or interfaces_mm',
      where: { path: pathText([...steps, 'layers']) }
    })
  ]
}

interface Wall {
  readonly end_mm: number
  readonly end: string
  readonly steps: readonly Step[]
}

const checkJoints = (joints: readonly number[], wall: Wall): readonly Refusal[] =>
  joints.flatMap((joint, at) => {
    const before = joints[at - 1] ?? 0
    if (joint > before && joint < wall.end_mm) return []
    const order = `deeper than ${at === 0 ? 'the entry face' : `the joint before it, ${before} mm`}`
    return [
      refuse('plan/interface-outside-grip', {
        found: `a joint at ${joint} mm`,
        needed: `${order}, and before the ${wall.end} at ${wall.end_mm} mm`,
        remedy: 'correct the joints or the thickness',
        where: { path: pathText([...wall.steps, 'interfaces_mm', at]) }
      })
    ]
  })

export const checkStandard = (standard: HoleStandard): readonly Refusal[] => [
  ...checkJoints(standard.interfaces_mm, {
    end_mm: standard.thickness_mm,
    end: 'far face of the reference standard',
    steps: ['reference_standard']
  }),
  ...standard.notches.flatMap((notch, index) => checkNotch(notch, index, standard.thickness_mm)),
  ...standard.notches.flatMap((notch, index) => checkName(notch, index, standard.notches))
]

/**
 * A name that states the depth of another notch at the same place: the alarm level would rest on the wrong one.
 * Names are free otherwise.
 */
function checkName({ id, place, depth_mm }: Notch, index: number, notches: readonly Notch[]): readonly Refusal[] {
  const stated = Number(/(\d+(?:\.\d+)?)\s*mm/.exec(id)?.[1] ?? Number.NaN)
  const other = notches.find((one) => one.place === place && one.depth_mm === stated)
  if (stated === depth_mm || other === undefined) return []
  return [
    refuse('plan/notch-name-differs', {
      found: `"${id}" with a depth of ${depth_mm} mm, while ${other.id} is ${stated} mm deep`,
      needed: 'a name that does not state the depth of another notch',
      remedy: 'correct name or depth by the certificate of the reference standard',
      where: { path: pathText(['reference_standard', 'notches', index, 'id']) }
    })
  ]
}

function checkNotch(notch: Notch, index: number, thickness_mm: number): readonly Refusal[] {
  const wrong = (key: string, found: string, needed: string): Refusal =>
    refuse('plan/notch-outside-standard', {
      found: `${notch.id}: ${found}`,
      needed,
      remedy: 'correct it by the certificate of the reference standard',
      where: { path: pathText(['reference_standard', 'notches', index, key]) }
    })
  const { z0_mm, z1_mm, place } = notch
  const reach = `from ${z0_mm} to ${z1_mm} mm`
  if (z1_mm > thickness_mm) return [wrong('z1_mm', reach, `an end within the thickness of ${thickness_mm} mm`)]
  if (z1_mm <= z0_mm) return [wrong('z1_mm', reach, 'an end deeper than the beginning')]
  const length = Math.abs(z1_mm - z0_mm - notch.length_mm) > rounding_mm
  if (length) return [wrong('length_mm', `${notch.length_mm} mm long, ${reach}`, 'a length that agrees with z0 and z1')]
  if (place === 'entry corner' && z0_mm > rounding_mm)
    return [wrong('z0_mm', reach, 'an entry corner that begins at 0')]
  if (place === 'exit corner' && z1_mm < thickness_mm - rounding_mm)
    return [wrong('z1_mm', reach, `an exit corner that ends at ${thickness_mm} mm`)]
  return []
}
