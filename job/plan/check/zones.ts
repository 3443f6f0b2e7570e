import type { Refusal } from '@trueloop/ground/refusal'
import { refuse } from '../codes.ts'
import type { HoleSheet } from '../sheet.ts'
import { pathText } from '../where.ts'

/** A zone of a layer that a hole does not have could never be examined in it. Refuses plan/bad-value. */
export const checkZones = ({ technique: { zones = [] }, holes }: HoleSheet): readonly Refusal[] =>
  zones.flatMap((zone, index) => {
    const layer = Number(/^layer (\d+)/.exec(zone)?.[1] ?? 0)
    const without = holes.find(({ interfaces_mm }) => layer > interfaces_mm.length + 1)
    if (without === undefined) return []
    return [
      refuse('plan/bad-value', {
        found: `"${zone}", and hole ${without.id} of ${without.interfaces_mm.length + 1} layers`,
        needed: 'zones that every hole of the sheet has',
        remedy: 'correct the zone, or the joints of the hole; holes of another stack-up go into a sheet of their own',
        where: { path: pathText(['technique', 'zones', index]) }
      })
    ]
  })
