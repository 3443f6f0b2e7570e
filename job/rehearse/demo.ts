import { demoHoles, referenceScene } from './demo-holes.ts'
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

function sceneOf({ hole }: DemoFile): HoleScene {
  const found = demoHoles.find(({ id }) => id === hole)
  return found?.scene ?? referenceScene
}
