import { importsOf, targetOf } from './imports.ts'
import { isTest, type Source } from './tree.ts'

/** Rooms that find, judge and size: what they know of a recording comes from the recording, its reference and the papers. */
const judging = /^job\/(plan|signal|standardize|interpret|evaluate|examine)\//

/** The room that makes recordings with known truth. It may read all of the others. */
const generator = /^job\/rehearse\//

/** Makes the golden examinations for their tests: no part of the product, so that a judging file may not import it either. */
const golden = /\/golden\//

/** The files of the rooms that judge; their tests and testing folders make recordings and may look. */
export const judges = (all: readonly Source[]): readonly Source[] =>
  all.filter(({ path }) => judging.test(path) && !isTest(path) && !golden.test(path))

/**
 * Everything that a judging room reads of the generator, as `place: import`: itself, or through whatever it imports, so
 * that a file between them hides nothing.
 */
export function readsOfGenerator(all: readonly Source[]): readonly string[] {
  const leaks = leaksOf(all)
  return judges(all).flatMap((source) =>
    importsOf(source)
      .filter(({ from }) => isLeak(targetOf(from, source.path), leaks))
      .map(({ from, place }) => `${place}: ${from}`)
  )
}

const isLeak = (target: string | undefined, leaks: ReadonlySet<string>): boolean =>
  target !== undefined && (generator.test(target) || leaks.has(target))

/** Files outside the generator that import it, or import a file that does. */
function leaksOf(all: readonly Source[]): ReadonlySet<string> {
  const others = all.filter(({ path }) => !generator.test(path))
  const targets = others.map((source) => ({
    path: source.path,
    to: importsOf(source).map(({ from }) => targetOf(from, source.path))
  }))
  const leaks = new Set<string>()
  for (let before = -1; before < leaks.size; ) {
    before = leaks.size
    for (const { path, to } of targets) if (to.some((target) => isLeak(target, leaks))) leaks.add(path)
  }
  return leaks
}
