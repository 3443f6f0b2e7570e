import { describe, it } from 'vitest'
import { root, sharedPath } from '../scripts/lib/places.mjs'

/** Absolute path of this clone. */
export const cloneRoot: string = root

/**
 * Absolute path of a file or folder in the folder of outside data (TRUELOOP_SHARED, else `../shared` beside the clone),
 * for instance `outside('outside/quirk_files')`; undefined where the folder, or that part of it, is absent.
 */
export const outside = (path: string): string | undefined => sharedPath(path)

/** How a test that has nothing to read is marked in its name; the runner counts it as "not applicable" and names it. */
export const notApplicableMark = (path: string): string => `{outside: ${path}}`

/**
 * A `describe` over outside data: `needsOutside('outside/quirk_files', 'quirks', (folder) => { it(…) })`.
 * Where the data are absent the body is not run and the suite counts as not applicable, by name.
 */
export function needsOutside(path: string, title: string, body: (path: string) => void): void {
  const found = outside(path)
  if (found !== undefined) describe(title, () => body(found))
  else
    describe.skip(`${title} ${notApplicableMark(path)}`, () => it('not applicable: no outside data', () => undefined))
}
