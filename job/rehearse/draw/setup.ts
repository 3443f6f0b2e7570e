import { PI, type Random, randomFrom } from '@trueloop/ground/numerics'
import type { Equipment, Hole, HoleStandard, HoleTechnique } from '../../plan/index.ts'
import type { HoleScene } from '../scene.ts'
import { byFactor, oneOf, rounded, within } from './chance.ts'
import { type Family, families } from './families.ts'
import type { Aspects, DrawnNotch, Geometry, Spread } from './geometry.ts'
import { drawNotches } from './notches.ts'
import { plainScene, referenceOf } from './scenes.ts'
import { techniqueOf } from './technique.ts'

/**
 * A set-up of a generated trial: what the inspector's papers say (technique, standard, equipment, hole), and what is
 * really so (scenes, scatter). Every number is ours and plausible; none is from a real part.
 */
export interface Setup {
  readonly id: string
  readonly family: Family
  readonly technique: HoleTechnique
  readonly standard: HoleStandard
  readonly equipment: Equipment
  readonly hole: Hole
  readonly rate_Hz: number
  readonly referenceScene: HoleScene
  readonly referenceSeed: number
  /** a hole of the job without flaws and trouble, its wall not yet drawn */
  readonly plain: HoleScene
  /** length over depth of the notches, on average, which notch-like flaws have as well */
  readonly aspects: Aspects
  readonly spread: Spread
  /** peak-to-peak of the alarm notch over the rms of the noise that is no lift-off, in the band of a notch */
  readonly notchOverNoise: number
}

const metals = Object.keys(families) as readonly Family[]

/** Set-up number `k` of a seed: metals in turn, all else drawn. The same seed and number give the same set-up. */
export function drawSetup(seed: number, k: number): Setup {
  const random = randomFrom(`rehearse set-up ${seed}`).fork(`${k}`)
  const family = metals[k % metals.length]!
  const spread = drawSpread(random.fork('spread'))
  const geometry = drawGeometry(random.fork('geometry'))
  const aspects = drawAspects(random.fork('aspects'))
  const notches = drawNotches({ aspects, spread, geometry }, random.fork('notches'))
  const notchOverNoise = byFactor(random.fork('noise'), [40, 120])
  const plain = plainScene({ family, geometry, notches, notchOverNoise }, random.fork('scene'))
  const id = `set-up ${k}`
  const metal = oneOf(random.fork('metal'), families[family].metals)
  return {
    ...{ id, family, spread, aspects, notchOverNoise, plain },
    technique: techniqueOf({ id, metal, geometry, notches, frequency_kHz: families[family].frequency_kHz }),
    standard: standardOf({ id, metal, geometry, notches }),
    equipment: equipmentOf(id),
    hole: holeOf(geometry, metal),
    rate_Hz: geometry.rate_Hz,
    referenceScene: referenceOf(plain, geometry, notches),
    referenceSeed: random.fork('reference').below(1e9)
  }
}

const drawSpread = (random: Random): Spread => ({
  notch: within(random, [0.02, 0.045]),
  crack: within(random, [0.1, 0.2]),
  aspect: 0.04
})

const drawAspects = (random: Random): Aspects => ({
  'mid-bore': within(random, [1.7, 2.3]),
  'entry corner': within(random, [0.9, 1.2])
})

/** Layers of 1.6 mm or more; the rest of the grip is shared at random. */
function drawGeometry(random: Random): Geometry {
  const diameter_mm = rounded(byFactor(random, [4, 16]), 0.01)
  const layers = 1 + random.below(4)
  const grip_mm = rounded(within(random, [Math.max(4, 1.8 * layers), 10]), 0.1)
  const lobe_spacing_mm = rounded(within(random, [0.9, Math.min(2, diameter_mm / 3.4)]), 0.01)
  const rpm = rounded(byFactor(random, [300, 3000]), 10)
  const pulse = (PI * diameter_mm) / (1.18 * lobe_spacing_mm)
  const perTurn = byFactor(random, [Math.max(140, 10 * pulse), 1200])
  return {
    ...{ diameter_mm, grip_mm, lobe_spacing_mm, rpm },
    joints_mm: jointsOf(random, layers, grip_mm),
    pitch_mm: rounded(within(random, [0.1, 0.35]), 0.01),
    rate_Hz: Math.round((perTurn * rpm) / 60),
    thickness_mm: rounded(within(random, [17, 20]), 0.1)
  }
}

const LEAST_LAYER_mm = 1.6

function jointsOf(random: Random, layers: number, grip_mm: number): readonly number[] {
  const free = grip_mm - layers * LEAST_LAYER_mm
  const cuts = Array.from({ length: layers - 1 }, () => within(random, [0, free])).sort((a, b) => a - b)
  return cuts.map((cut, at) => rounded((at + 1) * LEAST_LAYER_mm + cut, 0.1))
}

interface Papers {
  readonly id: string
  readonly metal: string
  readonly geometry: Geometry
  readonly notches: readonly DrawnNotch[]
}

const standardOf = ({ id, metal, geometry, notches }: Papers): HoleStandard => ({
  id: `simulated standard of ${id}`,
  metal,
  certificate: 'none: simulated',
  hole_diameter_mm: geometry.diameter_mm,
  thickness_mm: geometry.thickness_mm,
  interfaces_mm: [],
  angle_datum: 'index pulse',
  notches: notches.map(({ scatter: _, ...certified }) => certified)
})

const equipmentOf = (id: string): Equipment => ({
  instrument: 'simulated instrument',
  probe: `simulated probe of ${id}`,
  cable: 'simulated cable',
  drive: 'unchanged for the whole job',
  gain: 'unchanged for the whole job',
  filters: 'none',
  entered_by: 'simulated inspector'
})

const holeOf = ({ diameter_mm, grip_mm, joints_mm }: Geometry, metal: string): Hole => ({
  id: 'simulated hole',
  ...{ diameter_mm, grip_mm },
  interfaces_mm: [...joints_mm],
  layers: [metal, ...joints_mm.map(() => metal)]
})
