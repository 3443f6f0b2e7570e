import { isRefusal, type Result, sentence } from '@trueloop/ground/refusal'
import type { HoleSheet, RegisterRow } from '@trueloop/job/plan'
import type { Archive } from '../../archive/index.ts'
import type { Moment } from '../../clock/index.ts'
import { approveTechnique } from '../../decide/index.ts'
import type { Signer } from '../../keys/index.ts'

export { signerOf } from '../../keys/testing/index.ts'

import { registerRows } from '../../shop/index.ts'
import { openJob } from '../index.ts'

/** An invented shop with registers: two people who sign with keys made for one run, and what the demonstration uses. */

export const certificate = (expires = '2026-12-31') => ({ number: 'K-1', issued: '2025-04-01', expires })

/** What a job sheet of the demonstration uses, as rows of registers. */
export const equipmentRows = ({ equipment, reference_standard, technique }: HoleSheet): readonly RegisterRow[] => [
  {
    ...{ register: 'instrument', version: 1, serial: equipment.instrument, maker: 'Invented', model: 'One' },
    certificate: certificate()
  },
  {
    ...{ register: 'probe', version: 1, serial: equipment.probe, type: 'differential' },
    coil: { width_mm: 1.5, frequency_kHz: { least: 100, most: 1000 } }
  },
  {
    ...{ register: 'reference standard', version: 1, certificate: certificate() },
    standard: { ...reference_standard, certificate: 'K-1' },
    notch_uncertainty: reference_standard.notches.map(({ id }) => ({ id, uncertainty_mm: 0.01 }))
  },
  {
    ...{ register: 'procedure', version: 1, id: technique.procedure.id, revision: technique.procedure.revision },
    ...{ effectivity: 'all (invented)', in_force_from: '2025-01-01' },
    approved: { by: 'C. Level', level: 'III', on: '2024-12-20' }
  }
]

/** The sheet as a shop has it that keeps registers: its own people, and the certificate of its standard. */
export function signedSheet({ confirmed: _, ...sheet }: HoleSheet, examiner = 'B. Two'): HoleSheet {
  return {
    ...sheet,
    people: [{ name: examiner, level: 'II' }],
    examined_by: examiner,
    technique: { ...sheet.technique, approver: 'C. Level' },
    reference_standard: { ...sheet.reference_standard, certificate: 'K-1' }
  }
}

export const dayOf = (time: string) => (): Moment => ({ time, known: 'clock of this computer' })

export const got = <T>(result: Result<T>): T => {
  if (isRefusal(result)) throw new Error(sentence(result))
  return result as T
}

export interface ShopOfTest {
  readonly archive: Archive
  readonly folder: string
  readonly clock: () => Moment
  readonly three: Signer
}

/** Registers rows in the name of the Level III. */
export const register = async ({ archive, clock, three }: ShopOfTest, rows: readonly RegisterRow[]) =>
  got(await registerRows(rows, { archive, clock, signer: three }))

/** Opens the job of a sheet and has the Level III approve its technique. */
export async function approved(shop: ShopOfTest, sheet: HoleSheet): Promise<void> {
  const { archive, folder, clock, three } = shop
  got(await openJob({ sheet, folder, archive, clock }))
  got(await approveTechnique('2026-03-01', { archive, job: sheet.job.id, signer: three, clock }))
}
