import type { Result } from '@trueloop/ground/refusal'
import { refuse } from '../codes.ts'
import type { HoleSheet } from '../sheet.ts'

/** Zones of one kind in one metal: settings are worked out for all of them at once. */
export interface PlannedZones {
  readonly kind: 'corner' | 'mid-bore'
  readonly metal: string
  /** `layer 1 mid-bore` and so on. */
  readonly zones: readonly string[]
  /** How many holes of the sheet have one of them. */
  readonly holes: number
}

const partsOfLayer = ['entry corner', 'mid-bore', 'exit corner'] as const

/**
 * The zones that the technique asks for, else every corner and mid-bore of every layer, by kind and metal. Countersinks and
 * counterbores have no model: see withoutModel. Refuses: plan/zone-without-metal.
 */
export function zonesOf(sheet: HoleSheet): Result<readonly PlannedZones[]> {
  const rows = new Map<string, { zones: Set<string>; holes: Set<string>; kind: PlannedZones['kind']; metal: string }>()
  for (const hole of sheet.holes) {
    for (const zone of asked(sheet, hole.interfaces_mm.length + 1)) {
      const metal = metalIn(sheet, hole, zone)
      if (metal === undefined) return withoutMetal(zone, hole.id)
      const kind = zone.endsWith('mid-bore') ? 'mid-bore' : 'corner'
      const row = rows.get(`${kind}|${metal}`) ?? { zones: new Set(), holes: new Set(), kind, metal }
      row.zones.add(zone)
      row.holes.add(hole.id)
      rows.set(`${kind}|${metal}`, row)
    }
  }
  return [...rows.values()].map(({ zones, holes, kind, metal }) => ({
    kind,
    metal,
    zones: [...zones],
    holes: holes.size
  }))
}

/** For a person: `corners in aluminum 7075-T6`. */
export const zonesText = ({ kind, metal }: PlannedZones): string =>
  `${kind === 'corner' ? 'corners' : 'mid-bore'} in ${metal}`

/** Zones that have no model: they are said, not left out. */
export const withoutModel = ({ technique: { zones = [] } }: HoleSheet): readonly string[] =>
  zones.filter((zone) => !zone.startsWith('layer'))

const asked = ({ technique: { zones } }: HoleSheet, layers: number): readonly string[] =>
  zones?.filter((zone) => zone.startsWith('layer')) ??
  Array.from({ length: layers }, (_, at) => partsOfLayer.map((part) => `layer ${at + 1} ${part}`)).flat()

function metalIn({ technique }: HoleSheet, hole: HoleSheet['holes'][number], zone: string): string | undefined {
  const layer = Number(/^layer (\d+)/.exec(zone)?.[1] ?? 0)
  if (layer > hole.interfaces_mm.length + 1) return undefined
  if (hole.layers !== undefined) return hole.layers[layer - 1]
  return technique.stack_up?.[layer - 1]?.metal ?? technique.metal
}

const withoutMetal = (zone: string, hole: string): Result<never> =>
  refuse('plan/zone-without-metal', {
    found: `${zone}, which has no metal in hole ${hole}`,
    needed: 'a layer with its metal for each zone that is planned',
    remedy: 'correct the zone, or name the metals of the layers of that hole'
  })
