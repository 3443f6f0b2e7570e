import type { NuisanceKind } from '../truth.ts'
import { ASKEW_m, blankScene, type DrawnHole, drawnHole, recordingSeed, streamOf } from './blank.ts'
import { damageTroubles } from './damage.ts'
import { passingTroubles } from './disturbances.ts'
import { drawingOf, type Trouble } from './drawing.ts'
import { featureTroubles } from './features.ts'
import type { Setup } from './setup.ts'

const troubles: Readonly<Record<NuisanceKind, Trouble>> = { ...damageTroubles, ...featureTroubles, ...passingTroubles }

/** Every kind of trouble that a hole can be drawn with. */
export const nuisanceKinds = Object.keys(troubles) as readonly NuisanceKind[]

/** A hole without a flaw and with one trouble of this kind, about as strong as the alarm notch where it has a size. */
export function drawNuisance(setup: Setup, seed: number, kind: NuisanceKind): DrawnHole {
  const random = streamOf(setup, seed, kind)
  const scene = blankScene(setup, random.fork('hole'), ASKEW_m)
  return drawnHole(troubles[kind](drawingOf(setup, scene, random.fork('trouble'))), recordingSeed(random))
}
