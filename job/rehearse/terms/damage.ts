import type { Random } from '@trueloop/ground/numerics'
import type { Damage, HoleScene } from '../scene.ts'
import type { Term } from '../term.ts'
import { burrTerm } from './burr.ts'
import { grainTerm } from './galling.ts'
import { pitTerms } from './pit.ts'
import { scratchTerm } from './scratch.ts'

/** Damage that a pick-up sees in the metal. Chatter does not pass through the pair; a burr stands in air as well. */
export function damageTerms(scene: HoleScene, one: Damage, random: Random): readonly Term[] {
  if (one.kind === 'scratch') return [scratchTerm(scene, one)]
  if (one.kind === 'pit') return pitTerms(scene, one)
  return one.kind === 'galled patch' || one.kind === 'fretting' ? [grainTerm(scene, one, random)] : []
}

export const burrTerms = (scene: HoleScene): readonly Term[] =>
  scene.damage.filter((one) => one.kind === 'burr').map((one) => burrTerm(scene, one))
