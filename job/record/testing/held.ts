import type { HoleStandard, RegisterRow } from '../../plan/index.ts'
import { editionOfRow, nameOfRow, standingsOn } from '../../plan/index.ts'
import { canonical } from '../canonical.ts'
import type { EntryOf } from '../kinds.ts'
import { sha256 } from './entries.ts'

/** Rows of invented registers for the invented job, and the entry by which a job keeps them. */

const certificate = (number: string, expires: string) => ({ number, issued: '2025-04-01', expires })

export const inventedRows = (standard: HoleStandard): readonly RegisterRow[] => [
  {
    ...{ register: 'procedure', version: 1, id: 'INV-ET-12', revision: 'C', effectivity: 'all (invented)' },
    ...{ in_force_from: '2025-06-01', approved: { by: 'B. Invented', level: 'III', on: '2025-05-20' } }
  },
  {
    ...{ register: 'person', version: 1, name: 'A. Invented', method: 'eddy current', level: 'II' },
    certificate: { number: 'INV-2201', issued: '2024-02-01', expires: '2029-01-31' },
    near_vision: { examined: '2026-01-10', expires: '2027-01-09' },
    key: { kind: 'Ed25519', public: `${'A'.repeat(43)}=` }
  },
  {
    ...{ register: 'reference standard', version: 1, standard, certificate: certificate('INV-C 77', '2027-03-31') },
    notch_uncertainty: standard.notches.map(({ id }) => ({ id, uncertainty_mm: 0.01 }))
  },
  {
    ...{ register: 'instrument', version: 1, serial: 'INV-INS 1', maker: 'Invented', model: 'One' },
    certificate: certificate('INV-V 9', '2026-03-31')
  },
  {
    ...{ register: 'probe', version: 1, serial: 'INV-P 635', type: 'differential' },
    coil: { width_mm: 1.5, frequency_kHz: { least: 100, most: 1000 } }
  }
]

/** As the program keeps them on a day on which all of them hold. */
export function heldRows(rows: readonly RegisterRow[], day: string): EntryOf<'held-in-register'>['rows'] {
  return rows.map((row, seq) => ({
    ...{ what: row.register, name: nameOfRow(row), edition: editionOfRow(row) },
    ...{ document: sha256(canonical(row)), seq, entry: sha256(`shop ${seq}`) },
    spans: standingsOn(row, day).map(({ left_days: _, ...span }) => span as never)
  }))
}
