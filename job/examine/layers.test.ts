/** Oracle: the truth of the generator: what runs across a joint lies in both layers. */
import { describe, expect, it } from 'vitest'
import { generate, type HoleScene } from '../rehearse/index.ts'
import type { Indication } from './index.ts'
import { DEG, examine, sceneOf } from './testing/hole.ts'

const like = sceneOf('hole-P04')
const JOINT_mm = 5.6

const crack = (z0_mm: number, z1_mm: number): HoleScene => ({
  ...like,
  flaws: [
    {
      ...like.flaws[0]!,
      z0_m: z0_mm * 1e-3,
      z1_m: z1_mm * 1e-3,
      length_m: (z1_mm - z0_mm) * 1e-3
    }
  ]
})

function met(scene: HoleScene): readonly Indication[] {
  const recorded = generate(scene, 4)
  const [one] = recorded.truth.flaws
  const angle_deg =
    one?.angle_deg ?? recorded.truth.nuisances.find((other) => other.angle_deg !== undefined)!.angle_deg!
  const { indications } = examine(recorded).examination
  return indications.filter(({ angle_rad }) => Math.abs((angle_rad as number) / DEG - angle_deg) < 6)
}

const layersOf = (found: readonly Indication[]) => [...new Set(found.map(({ layer }) => layer))]

describe('one entry a layer', () => {
  it.each([
    ['evenly over the joint', 4.4, 6.8],
    ['mostly before it', 2.6, 6.9],
    ['mostly behind it', 4.4, 8]
  ])('a crack that runs %s has an entry in both layers, cut at the joint', (_, z0_mm, z1_mm) => {
    const found = met(crack(z0_mm, z1_mm))
    expect(layersOf(found)).toEqual([2, 3])
    for (const { layer, z0_m, z1_m } of found) {
      const [from, to] = layer === 2 ? [2, JOINT_mm] : [JOINT_mm, 8.1]
      expect(z0_m as number).toBeGreaterThanOrEqual(1e-3 * from - 1e-12)
      expect(z1_m as number).toBeLessThanOrEqual(1e-3 * to + 1e-12)
      expect(z1_m as number).toBeGreaterThanOrEqual(z0_m as number)
    }
    const before = found.find(({ layer }) => layer === 2)!
    const behind = found.find(({ layer }) => layer === 3)!
    expect(before.z1_m).toBeCloseTo(1e-3 * JOINT_mm, 9)
    expect(behind.z0_m).toBeCloseTo(1e-3 * JOINT_mm, 9)
    expect(Math.abs(1e3 * (before.z0_m as number) - z0_mm)).toBeLessThan(0.5)
    expect(Math.abs(1e3 * (behind.z1_m as number) - Math.min(8.1, z1_mm))).toBeLessThan(0.5)
  })

  it.each([
    ['ends at the joint', 4.6, JOINT_mm],
    ['begins at the joint', JOINT_mm, 6.6]
  ])('a crack that %s has one', (_, z0_mm, z1_mm) => {
    expect(layersOf(met(crack(z0_mm, z1_mm)))).toHaveLength(1)
  })

  it('a scratch through all three layers has an entry in each', () => {
    const scratches = sceneOf('hole-P03').damage.map((one) => ({
      ...one,
      ...{ z0_m: 0.5e-3, z1_m: 7.6e-3, helix_turn_per_m: 0, direction_rad: Math.PI - 0.8 }
    }))
    const found = met({ ...like, flaws: [], damage: scratches })
    expect(layersOf(found)).toEqual([1, 2, 3])
  })
})
