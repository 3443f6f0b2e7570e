import type { Range } from './chance.ts'

/**
 * Metals as a probe tells them: angle from lift-off to a shallow flaw and its turn with depth. Frequencies are those of
 * practice (aluminum 200 and 500 kHz, stainless steel 500 kHz and 1 MHz, titanium 1 and 2 MHz); the angles are ours, apart
 * enough that nothing can be built on those of aluminum.
 */
export interface FamilyForm {
  readonly metals: readonly string[]
  readonly frequency_kHz: readonly number[]
  readonly angle_rad: Range
  readonly turn_rad_per_mm: Range
  readonly crackFactor: Range
}

export type Family = 'aluminum' | 'titanium' | 'stainless steel'

export const families: Readonly<Record<Family, FamilyForm>> = {
  aluminum: {
    metals: ['aluminum 7075-T6', 'aluminum 2024-T3'],
    frequency_kHz: [200, 500],
    angle_rad: [1.35, 1.9],
    turn_rad_per_mm: [-0.18, -0.05],
    crackFactor: [0.7, 0.9]
  },
  titanium: {
    metals: ['Ti-6Al-4V'],
    frequency_kHz: [1000, 2000],
    angle_rad: [0.95, 1.35],
    turn_rad_per_mm: [-0.1, -0.02],
    crackFactor: [0.6, 0.85]
  },
  'stainless steel': {
    metals: ['stainless steel 304'],
    frequency_kHz: [500, 1000],
    angle_rad: [0.7, 1.05],
    turn_rad_per_mm: [0.01, 0.08],
    crackFactor: [0.65, 0.9]
  }
}
