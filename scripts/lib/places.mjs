/** The few places that scripts and tests share: the clone, its build folder, the folder of outside data. */
import { existsSync } from 'node:fs'
import { dirname, join, resolve } from 'node:path'
import { fileURLToPath } from 'node:url'

/** Root of this clone, found from where this file lies (never from the working folder). */
export const root = resolve(dirname(fileURLToPath(import.meta.url)), '..', '..')

/** A path inside the clone. */
export const inClone = (...parts) => join(root, ...parts)

/** The folder of outside data, there or not: TRUELOOP_SHARED, else `../shared` beside the clone. */
export const sharedRoot = () => resolve(root, process.env.TRUELOOP_SHARED || join('..', 'shared'))

/**
 * A path in the folder of outside data; undefined where its first part (`outside`, `trial`, …) is absent, which makes
 * a test "not applicable". A path missing deeper down is returned as it is: its test is to fail, not to fall silent.
 */
export function sharedPath(path) {
  const [part] = path.split('/')
  return existsSync(join(sharedRoot(), part)) ? join(sharedRoot(), path) : undefined
}
