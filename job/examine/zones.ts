import type { Hole } from '../plan/index.ts'

/** A part of the wall that is examined, sized and decided on by itself: layer × (entry corner, mid-bore, exit corner). */
export interface Zone {
  readonly name: string
  readonly layer: number
  readonly place: 'corner' | 'mid-bore'
  readonly z0_m: number
  readonly z1_m: number
}

/**
 * Zones of a hole. A corner reaches as far as the probe's field reaches along the axis (taken as the lobe spacing), at
 * most a third of the layer.
 */
export function zonesOf(hole: Hole, reach_m: number): readonly Zone[] {
  const bounds = [0, ...hole.interfaces_mm.map((z) => z * 1e-3), hole.grip_mm * 1e-3]
  return bounds.slice(1).flatMap((to, layer) => {
    const from = bounds[layer]!
    const corner = Math.min(reach_m, (to - from) / 3)
    const name = `layer ${layer + 1}`
    return [
      { name: `${name} entry corner`, layer, place: 'corner' as const, z0_m: from, z1_m: from + corner },
      { name: `${name} mid-bore`, layer, place: 'mid-bore' as const, z0_m: from + corner, z1_m: to - corner },
      { name: `${name} exit corner`, layer, place: 'corner' as const, z0_m: to - corner, z1_m: to }
    ]
  })
}

/** The zone a depth lies in; beyond the faces, the nearest. */
export function zoneAt(zones: readonly Zone[], z_m: number): Zone {
  return zones.find((zone) => z_m < zone.z1_m) ?? zones.at(-1)!
}
