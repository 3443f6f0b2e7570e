import type { ReamRules } from '../../../plan/index.ts'
import type { ReamAsked, SizedIndication } from '../index.ts'

/** Rules and a hole for tests to change. Invented; no figure of it is a recommendation. */
export const rules: ReamRules = {
  permitted_sizes_mm: [
    { diameter_mm: 6.75, over_mm: 0.02, under_mm: 0 },
    { diameter_mm: 7.14, over_mm: 0.02, under_mm: 0 },
    { diameter_mm: 7.54, over_mm: 0.03, under_mm: 0.01 },
    { diameter_mm: 7.94 }
  ],
  max_diameter_mm: 8,
  min_edge_margin: 1.5,
  depth_allowance_mm: 0.2,
  eccentricity_mm: 0.05,
  diameter_class_mm: 0.04
}

export interface Change {
  readonly rules?: Partial<ReamRules>
  readonly hole?: Partial<ReamAsked['hole']>
  readonly measured_mm?: readonly (readonly number[])[]
}

export const asked = (change: Change = {}): ReamAsked => ({
  rules: { ...rules, ...change.rules },
  hole: { id: 'H1', edge_distance_mm: 14, ...change.hole },
  measured_mm: change.measured_mm ?? [[6.35]]
})

/** An indication with this upper bound alone. */
export const upTo = (upper_mm: number, name = 'H1/1'): SizedIndication => ({
  name,
  size: { depth: `≤ ${upper_mm.toFixed(2)} mm`, upper_mm, extent: 'not known', withheld: [] }
})
