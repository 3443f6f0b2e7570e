import type { Feature, HoleScene } from '../scene.ts'
import type { Term } from '../term.ts'
import { bushingTerm } from './bushing.ts'
import { claddingTerm } from './cladding.ts'
import { metalPatchTerm } from './metal-patch.ts'
import { neighborMetalTerm } from './neighbor-metal.ts'
import { sealantTerm } from './sealant.ts'
import { splitLineTerm } from './split-line.ts'

/** What belongs to the part, as one pick-up sees it. */
export function featureTerm(scene: HoleScene, one: Feature): Term {
  switch (one.kind) {
    case 'split line':
      return splitLineTerm(scene, one)
    case 'bushing':
      return bushingTerm(one)
    case 'cladding':
      return claddingTerm(scene, one)
    case 'sealant':
      return sealantTerm(scene, one)
    case 'neighbor metal':
      return neighborMetalTerm(one)
    default:
      return metalPatchTerm(scene, one)
  }
}
