import { isRefusal, type Result } from '@trueloop/ground/refusal'
import type { FieldFlaw, FieldProbe } from './probe.ts'
import { type ResponseTable, responseTable } from './table.ts'

/** Where tables are kept between one run and the next; a derived cache that may be deleted at any time. */
export interface TableShelf {
  readonly get: (name: string) => ResponseTable | undefined
  readonly put: (name: string, table: ResponseTable) => void
}

/** Name of a table: all that it is made from. Raised with `FORM` when the making changes. */
const FORM = 1

export const tableName = (probe: FieldProbe, diameter_m: number, flaw: FieldFlaw): string => {
  const { frequency_Hz, metal, driver, pickUps } = probe
  return JSON.stringify([FORM, frequency_Hz, metal, driver, pickUps, diameter_m, flaw])
}

export const memoryShelf = (): TableShelf => {
  const known = new Map<string, ResponseTable>()
  return { get: (name) => known.get(name), put: (name, table) => void known.set(name, table) }
}

/** The table from the shelf, or made and put there. Refuses: as responseTable. */
export function tableOf(
  shelf: TableShelf,
  { probe, diameter_m, flaw }: { readonly probe: FieldProbe; readonly diameter_m: number; readonly flaw: FieldFlaw }
): Result<ResponseTable> {
  const name = tableName(probe, diameter_m, flaw)
  const known = shelf.get(name)
  if (known !== undefined) return known
  const made = responseTable(probe, diameter_m, flaw)
  if (!isRefusal(made)) shelf.put(name, made)
  return made
}
