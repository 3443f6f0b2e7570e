import { editionOfRow, nameOfRow, type RegisterRow, rowOfDocument, standingsOn } from '../plan/index.ts'
import { canonical } from './canonical.ts'
import type { Fault } from './intact.ts'
import type { HeldRow } from './kinds/registering.ts'
import type { EntryOf } from './kinds.ts'
import type { Hash } from './row.ts'

/** What looking at the kept rows of registers again needs from outside. */
export interface HeldPorts {
  readonly hash: Hash
  readonly document: (hash: string) => Promise<string | undefined>
}

/** What the entry repeats of each row must be what its document says, for that day. */
export async function heldFaults(
  { document, hash }: HeldPorts,
  seq: number,
  { rows, day }: EntryOf<'held-in-register'>
): Promise<readonly Fault[]> {
  const faults: Fault[] = []
  for (const held of rows) {
    const text = await document(held.document)
    const row = text === undefined || hash(text) !== held.document ? undefined : rowIn(text)
    const place = `entry ${seq}, ${held.what} ${held.name}`
    if (row === undefined) faults.push({ place, found: 'no document of that row', needed: held.document })
    else if (canonical(told(row, day)) !== canonical(repeated(held)))
      faults.push({ place, found: canonical(repeated(held)), needed: canonical(told(row, day)) })
  }
  return faults
}

function rowIn(text: string): RegisterRow | undefined {
  try {
    return rowOfDocument(JSON.parse(text))
  } catch {
    return undefined
  }
}

const repeated = ({ what, name, edition, spans }: HeldRow) => ({ what, name, edition, spans })

const told = (row: RegisterRow, day: string) => ({
  ...{ what: row.register, name: nameOfRow(row), edition: editionOfRow(row) },
  spans: standingsOn(row, day).map(({ left_days: _, ...span }) => span)
})
