/** Oracle: the truth of the generator, whose split pair answers twice along the axis at mid-bore. source: split-d-2011 */
import { beforeAll, describe, expect, it } from 'vitest'
import { drawSetup, generate, type HoleScene, SEEDS } from '../rehearse/index.ts'
import type { Standardization } from '../standardize/index.ts'
import { twinOf } from './hole-twins.ts'
import type { Indication } from './index.ts'
import { DEG, demoStandardization, examine, sceneOf, standardizationFrom } from './testing/hole.ts'

const LOBES_m = 2e-3
/** twice the distance of the lobes in the demonstration */
const MOST_m = 2.2e-3
const split = (scene: HoleScene): HoleScene => ({
  ...scene,
  probe: { ...scene.probe, axial_lobes_m: LOBES_m, footprint_m: 0.7e-3 }
})

const like = split(sceneOf('hole-P04'))
const cracked = (...places: readonly (readonly [z0_mm: number, z1_mm: number])[]): HoleScene => ({
  ...like,
  flaws: places.map(([z0_mm, z1_mm]) => ({
    ...like.flaws[0]!,
    z0_m: z0_mm * 1e-3,
    z1_m: z1_mm * 1e-3,
    length_m: (z1_mm - z0_mm) * 1e-3,
    depth_m: 0.9e-3
  }))
})

describe('the double maximum of a split pair', () => {
  let standardization: Standardization

  beforeAll(() => {
    standardization = standardizationFrom(generate(split(sceneOf('reference-start')), 1))
  })

  const angle_deg = () => generate(cracked([3.4, 4]), 4).truth.flaws[0]!.angle_deg

  function met(scene: HoleScene): readonly Indication[] {
    const { examination } = examine(generate(scene, 4), { standardization })
    return examination.indications.filter(
      ({ angle_rad }) => Math.abs((angle_rad as number) / DEG - angle_deg()) < 5 && angle_rad !== 'unknown'
    )
  }

  const saysTwo = ({ evidence }: Indication) => evidence.find(({ what }) => what === 'two maxima')?.sentence

  it('is measured on the mid-bore notches, and none where there is none', () => {
    expect(twinOf(standardization, MOST_m)!).toBeGreaterThan(0.85 * LOBES_m)
    expect(twinOf(standardization, MOST_m)!).toBeLessThan(1.15 * LOBES_m)
    expect(twinOf(demoStandardization(), MOST_m)).toBeUndefined()
  })

  it.each([2, 8, 10, 14])('is not read into noise or other notches: drawn set-up %i, whose pair has but one', (k) => {
    const { plain, referenceScene, referenceSeed, technique, ...setup } = drawSetup(SEEDS.setups, k)
    expect(plain.probe.axial_lobes_m).toBeUndefined()
    const own = standardizationFrom(generate(referenceScene, referenceSeed), { ...setup, technique })
    expect(twinOf(own, 2e-3 * technique.lobe_spacing_mm)).toBeUndefined()
  })

  it('of one short crack at mid-bore is one indication, both maxima kept, its middle between them', () => {
    const found = met(cracked([3.5, 4.1]))
    expect(found).toHaveLength(1)
    const apart = /Two maxima (\d\.\d\d) mm apart along the axis/.exec(saysTwo(found[0]!) ?? '')
    expect(Math.abs(Number(apart?.[1]) - 1e3 * LOBES_m)).toBeLessThan(0.3)
    expect(Math.abs(1e3 * (found[0]!.z_m as number) - 3.8)).toBeLessThan(0.4)
    expect(found[0]!.z1_m as number).toBeGreaterThan(3.8e-3 + 0.5 * LOBES_m)
    expect(found[0]!.z0_m as number).toBeLessThan(3.8e-3 - 0.5 * LOBES_m)
  })

  it('does not come at a corner: one maximum, and nothing is said of two', () => {
    const found = met(cracked([0, 0.8]))
    expect(found).toHaveLength(1)
    expect(saysTwo(found[0]!)).toBeUndefined()
  })

  it('two cracks at another distance stay two', () => {
    const single = { ...cracked([2.1, 2.5], [5, 5.4]) }
    const { axial_lobes_m: _, ...probe } = single.probe
    expect(met({ ...single, probe })).toHaveLength(2)
  })

  it('is never taken for one across a joint', () => {
    const { axial_lobes_m: _, ...probe } = like.probe
    // corner cracks on both sides of the joint at 5.6 mm, as far apart as the two maxima
    const found = met({ ...cracked([4.35, 4.85], [6.35, 6.85]), probe })
    expect(found.map(({ layer }) => layer)).toEqual([2, 3])
    expect(found.map(saysTwo)).toEqual([undefined, undefined])
    // in one layer the same two are taken for one, and both are kept
    const inOne = met({ ...cracked([2.45, 2.95], [4.45, 4.95]), probe })
    expect(inOne).toHaveLength(1)
    expect(saysTwo(inOne[0]!)).toBeDefined()
  })
})
