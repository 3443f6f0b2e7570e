import { causes } from './causes/index.ts'
import { FEATURING } from './featuring/index.ts'
import { JUDGING } from './judge.ts'
import { detection } from './numbers.ts'
import type { Group } from './parameters.ts'
import { trackCauses } from './track-causes/index.ts'
import { following } from './track-numbers.ts'

/** Every declared number of this room, by the name of its group: those of a cause by the cause's name. */
export const declaredGroups: Readonly<Record<string, Group>> = {
  detection,
  features: FEATURING,
  judge: JUDGING,
  ...Object.fromEntries(causes.map(({ name, numbers }) => [name, numbers]))
}

/** Those of tracks: causes of a name that holes have too are another thing. */
export const declaredTrackGroups: Readonly<Record<string, Group>> = {
  following,
  judge: JUDGING,
  ...Object.fromEntries(trackCauses.map(({ name, numbers }) => [name, numbers]))
}
