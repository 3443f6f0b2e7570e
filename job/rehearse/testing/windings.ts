import { plannableSheet } from '../../plan/testing/plannable.ts'

/** A sheet that practice can be made for: both windings of its probe, six holes of two layers. Invented, plain data. */
export function windingSheet() {
  const value = plannableSheet()
  const place = { length_mm: 0.6, lift_off_mm: 0.1 }
  value.technique.probe.winding = { inner_radius_mm: 0.7, outer_radius_mm: 1, turns: 80, ...place }
  value.technique.probe.pick_ups = { inner_radius_mm: 0.4, outer_radius_mm: 0.65, turns: 60, ...place }
  value.holes = ['H1', 'H2', 'H3', 'H4', 'H5', 'H6'].map((id) => ({
    ...{ id, diameter_mm: 6.35, grip_mm: 9, interfaces_mm: [4.5] },
    preparation: { cleaned: { by: 'A', on: '2026-03-14' }, deburred: 'yes', visual: 'nothing' }
  }))
  return value
}
