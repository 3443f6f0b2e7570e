import { sampleSheet } from './sample.ts'

/** A sheet that settings can be worked out for; a small winding in an aluminum wall. Invented. */
// biome-ignore lint/suspicious/noExplicitAny: a sheet is plain data until it is read
export function plannableSheet(): any {
  const sheet = sampleSheet()
  sheet.technique.metal = 'aluminum 7075-T6'
  sheet.reference_standard.metal = 'aluminum 7075-T6'
  sheet.technique.probe = {
    mean_coil_radius_mm: 0.5,
    fit: 'follows the wall',
    winding: { inner_radius_mm: 0.3, outer_radius_mm: 0.7, length_mm: 0.6, turns: 60, lift_off_mm: 0.1 }
  }
  sheet.recordings = []
  return sheet
}

/** A sheet of loops, which have no wall. Invented. */
export function loopSheet() {
  const { reference_standard: _, holes: __, ...rest } = plannableSheet()
  const technique = { application: 'loop', procedure: { id: 'P', revision: 'A' }, min_signal_to_noise: 5 }
  return { ...rest, technique }
}
