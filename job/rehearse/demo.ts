import { demoHoles, referenceScene } from './demo-holes.ts'
import { holeScene } from './demo-scene.ts'
import { type DemoFile, demoFiles } from './demo-sheet.ts'
import type { HoleScene } from './scene.ts'

/** A recording of the demonstration: `generate(scene, seed)` makes it. */
export interface DemoRecording {
  readonly file: string
  readonly scene: HoleScene
  readonly seed: number
}

/** All recordings of the demonstration job in the order in which they were taken. Every seed gives the same flaws. */
export function* demoRecordings(seed: number): Generator<DemoRecording> {
  for (const [k, file] of demoFiles.entries()) {
    yield { file: file.file, scene: sceneOf(file), seed: 1000 * seed + k }
  }
}

/** Recordings that the job does not have: what is scanned again while somebody tries the watched folder. */
export function* demoSpares(seed: number): Generator<DemoRecording> {
  const spares = [
    ['recheck-3.wav', referenceScene],
    ['hole-P05-again.wav', holeScene(5)],
    ['hole-P08-again.wav', holeScene(8)],
    ['recheck-4.wav', referenceScene]
  ] as const
  for (const [k, [file, scene]] of spares.entries()) yield { file, scene, seed: 1000 * seed + 500 + k }
}

function sceneOf({ hole }: DemoFile): HoleScene {
  const found = demoHoles.find(({ id }) => id === hole)
  return found?.scene ?? referenceScene
}
