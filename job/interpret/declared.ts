import { causes } from './causes/index.ts'
import { FEATURING } from './featuring/index.ts'
import { JUDGING } from './judge.ts'
import { detection } from './numbers.ts'
import type { Group } from './parameters.ts'

/** Every declared number of this room, by the name of its group: those of a cause by the cause's name. */
export const declaredGroups: Readonly<Record<string, Group>> = {
  detection,
  features: FEATURING,
  judge: JUDGING,
  ...Object.fromEntries(causes.map(({ name, numbers }) => [name, numbers]))
}
