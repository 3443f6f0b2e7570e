import type { HoleSheet } from '../sheet.ts'
import type { Notch } from '../standard.ts'
import type { PlannedFlaw } from './answer.ts'
import type { PlannedZones } from './zone.ts'

/** Outlines of flaws and notches where the sheet does not state them: half an ellipse, a quarter at a corner (common practice, no source). */
const outlineOf = { 'mid-bore': 'half ellipse', corner: 'quarter ellipse' } as const

/** The flaw sought in a zone; no longer than the thinnest layer lets it be is not checked here, the paper states it. */
export const targetIn = ({ technique }: HoleSheet, { kind }: PlannedZones): PlannedFlaw => ({
  outline: outlineOf[kind],
  length_m: technique.target_flaw_mm.length * 1e-3,
  depth_m: technique.target_flaw_mm.depth * 1e-3
})

export const notchAs = ({ place, length_mm, depth_mm }: Notch): PlannedFlaw => ({
  outline: place === 'through' ? 'rectangle' : outlineOf[place === 'mid-bore' ? 'mid-bore' : 'corner'],
  length_m: length_mm * 1e-3,
  depth_m: depth_mm * 1e-3
})
