import { randomFrom } from '@trueloop/ground/numerics'
import { isRefusal, type Result } from '@trueloop/ground/refusal'
import type { HoleSheet, Sheet } from '../../plan/index.ts'
import type { DemoRecording } from '../demo.ts'
import { notReady, type TableShelf } from '../field/index.ts'
import type { HoleScene } from '../scene.ts'
import { crackIn } from './flaws.ts'
import { fromField, invented } from './modeled.ts'
import { noRoom, notAHole } from './no.ts'
import { probeFor } from './probe.ts'
import { rateFor, type Staged, sceneOfHole, scratchIn, standardScene } from './scenes.ts'
import { type Listed, practiceSheet } from './sheet.ts'

/** Recordings of a technique as its field makes them, and the job sheet that they belong to; all of it a demonstration. */
export interface Practice {
  readonly sheet: HoleSheet
  readonly recordings: readonly DemoRecording[]
  /** What is modeled in them and what is not, for a person. */
  readonly modeled: readonly string[]
}

/** More holes than these are not made at once. */
export const MOST_HOLES = 20
/** Holes between two rechecks. */
const STRETCH = 5

/**
 * Practice for a technique: its reference standard, its first holes with cracks drawn by the seed, rechecks. Coil, footprint
 * and lobes come from the field; noise, motion and joints are invented. Every table is made before it returns.
 * Refuses: rehearse/not-a-hole, rehearse/no-pick-ups, rehearse/several-metals, rehearse/no-room, and what the field refuses
 * of coil, hole and flaws.
 */
export function practiceOf(sheet: Sheet, seed: number, shelf: TableShelf): Result<Practice> {
  if (!('holes' in sheet)) return notAHole(sheet.technique.application)
  const probe = probeFor(sheet, shelf)
  if (isRefusal(probe)) return probe
  const staging = { sheet, probe, rate_Hz: rateFor(sheet, probe) }
  const scenes = scenesOf(staging, seed)
  if (scenes.every(({ scene }) => scene.flaws.length === 0)) return noRoom()
  const recordings = inOrder(standardScene(staging), scenes, seed)
  for (const { scene } of recordings) {
    const bad = notReady(scene, shelf)
    if (bad !== undefined) return bad
  }
  return {
    sheet: practiceSheet(staging, recordings, seed),
    recordings: recordings.map(({ file, scene, seed: own }) => ({ file, scene, seed: own })),
    modeled: [fromField, invented]
  }
}

interface OfHole {
  readonly hole: string
  readonly scene: HoleScene
}

/** About half of the holes have a crack, one in five a scratch. */
function scenesOf(staging: Staged, seed: number): readonly OfHole[] {
  const { sheet, probe } = staging
  return sheet.holes.slice(0, MOST_HOLES).map((hole, pattern) => {
    const random = randomFrom(`practice ${seed} ${hole.id}`)
    const crack = random.uniform() < 0.5 ? crackIn(hole, sheet.technique, random.fork('crack')) : undefined
    const scratches = random.uniform() < 0.2 ? [scratchIn(hole, probe, random.fork('scratch'))] : []
    const flaws = crack === undefined ? [] : [crack]
    return { hole: hole.id, scene: sceneOfHole({ hole, pattern: pattern + 1, flaws, scratches }, staging) }
  })
}

/** Reference first, a recheck after every few holes and at the end. */
function inOrder(standard: HoleScene, scenes: readonly OfHole[], seed: number): readonly Listed[] {
  const list: Omit<Listed, 'seed'>[] = [{ of: 'reference', file: 'reference-start.wav', scene: standard }]
  scenes.forEach(({ hole, scene }, at) => {
    list.push({ of: 'hole', hole, file: `hole-${at + 1}.wav`, scene })
    if ((at + 1) % STRETCH !== 0 && at !== scenes.length - 1) return
    list.push({ of: 'recheck', file: `recheck-${Math.ceil((at + 1) / STRETCH)}.wav`, scene: standard })
  })
  return list.map((one, at) => ({ ...one, seed: 1000 * seed + at }))
}
