import type { RegisterRow, RowOf } from '../registers/index.ts'
import { sampleSheet } from './sample.ts'

/** One sound row of each register. Invented. */

const certificate = { number: 'K-1', issued: '2026-01-10', expires: '2027-01-09' }

export const personRow = (over: Partial<RowOf<'person'>> = {}): RowOf<'person'> => ({
  ...{ register: 'person', version: 1, name: 'C. Level', method: 'eddy current', level: 'III' },
  certificate: { number: 'ET-1', issued: '2024-02-01', expires: '2029-01-31' },
  near_vision: { examined: '2026-01-10', expires: '2027-01-09' },
  key: { kind: 'Ed25519', public: `${'A'.repeat(43)}=` },
  ...over
})

export const instrumentRow = (over: Partial<RowOf<'instrument'>> = {}): RowOf<'instrument'> => ({
  ...{ register: 'instrument', version: 1, serial: 'I-1', maker: 'Invented', model: 'One', certificate },
  ...over
})

export const probeRow = (over: Partial<RowOf<'probe'>> = {}): RowOf<'probe'> => ({
  ...{ register: 'probe', version: 1, serial: 'P-1', type: 'differential' },
  coil: { width_mm: 1.5, lobe_spacing_mm: 1.3, frequency_kHz: { least: 100, most: 1000 } },
  ...over
})

export const standardRow = (over: Partial<RowOf<'reference standard'>> = {}): RowOf<'reference standard'> => ({
  ...{ register: 'reference standard', version: 1, certificate },
  standard: { ...sampleSheet().reference_standard, interfaces_mm: [], angle_datum: 'index pulse' },
  notch_uncertainty: [
    { id: 'N1', uncertainty_mm: 0.01 },
    { id: 'N2', uncertainty_mm: 0.02 }
  ],
  ...over
})

export const gaugeRow = (over: Partial<RowOf<'gauge'>> = {}): RowOf<'gauge'> => ({
  ...{ register: 'gauge', version: 1, serial: 'G-1', measures: 'diameter of a hole' },
  ...{ uncertainty_mm: 0.005, certificate },
  ...over
})

export const procedureRow = (over: Partial<RowOf<'procedure'>> = {}): RowOf<'procedure'> => ({
  ...{ register: 'procedure', version: 1, id: 'P', revision: 'A', effectivity: 'all' },
  ...{ in_force_from: '2026-01-01', approved: { by: 'C. Level', level: 'III', on: '2025-12-20' } },
  ...over
})

export const everyRow = (): readonly RegisterRow[] => [
  personRow(),
  instrumentRow(),
  probeRow(),
  standardRow(),
  gaugeRow(),
  procedureRow()
]
