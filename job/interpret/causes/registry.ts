import type { Cause } from './cause.ts'
import * as listed from './listed.ts'

/** Everything that an indication may come from. A new cause is one file, and one line in `listed.ts`. */
export const causes: readonly Cause[] = Object.values(listed)
