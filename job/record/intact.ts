import { isRefusal, type Result } from '@trueloop/ground/refusal'
import { canonical } from './canonical.ts'
import { beginning, chainHash, type EntryRow, type Hash } from './chain.ts'

/** Something that is not as it was written, with its place. */
export interface Fault {
  readonly place: string
  readonly found: string
  readonly needed: string
}

interface End {
  readonly count: number
  readonly head: string
}

interface Headed {
  readonly id: string
  readonly kind: string
  readonly version: number
}

export interface Chained<E extends Headed> {
  /** reads an entry of this record */
  readonly parse: (value: unknown) => Result<E>
  readonly rows: readonly EntryRow[]
  readonly hash: Hash
  readonly kept?: End
  readonly printed?: End
}

export interface ChainFindings<E> {
  readonly faults: readonly Fault[]
  /** entries whose own bytes are sound */
  readonly sound: readonly { readonly seq: number; readonly entry: E }[]
  readonly entriesSincePrinted: number
}

/**
 * Looks at every row for itself and in its place: number, hash before, own hash, body in canonical form, columns that
 * repeat the body. Then at the end of the chain, where one is known from elsewhere.
 */
export function intactChain<E extends Headed>({ rows, kept, printed, ...reading }: Chained<E>): ChainFindings<E> {
  const sound: { seq: number; entry: E }[] = []
  const faults: Fault[] = []
  for (const [at, row] of rows.entries()) {
    const entry = bodyOf(row, reading)
    const found = [...placeFaults(rows, at), ...rowFaults(row, { at, entry, hash: reading.hash })]
    if (found.length === 0 && entry !== undefined) sound.push({ seq: row.seq, entry })
    faults.push(...found)
  }
  const since = printed === undefined ? 0 : rows.length - printed.count
  const ends = [
    ...(kept === undefined ? [] : keptFaults(rows, kept)),
    ...(printed === undefined ? [] : printedFaults(rows, printed))
  ]
  return { faults: [...faults, ...ends], sound, entriesSincePrinted: since }
}

const placeName = (at: number): string => `entry ${at}`

function placeFaults(rows: readonly EntryRow[], at: number): readonly Fault[] {
  const row = rows[at] as EntryRow
  const before = rows[at - 1]?.hash ?? beginning
  const place = placeName(at)
  return [
    ...(row.seq === at ? [] : [{ place, found: `number ${row.seq}`, needed: `number ${at}` }]),
    ...(row.previous === before ? [] : [{ place, found: `"${row.previous}" as the hash before it`, needed: before }])
  ]
}

interface Read {
  readonly at: number
  readonly entry: Headed | undefined
  readonly hash: Hash
}

function rowFaults(row: EntryRow, { at, entry, hash }: Read): readonly Fault[] {
  const place = placeName(at)
  const own = chainHash(hash, row)
  if (own !== row.hash) return [{ place, found: `content whose hash is ${own}`, needed: row.hash }]
  if (entry === undefined) return [{ place, found: 'a body that is no entry', needed: 'an entry in canonical form' }]
  const { id, kind, version } = entry
  const repeated = canonical({ id, kind, version })
  const columns = canonical({ id: row.id, kind: row.kind, version: row.version })
  return columns === repeated ? [] : [{ place, found: columns, needed: `${repeated}, as its body has it` }]
}

function bodyOf<E extends Headed>({ body }: EntryRow, { parse }: Pick<Chained<E>, 'parse'>): E | undefined {
  const value = canonicalValue(body)
  const entry = value === undefined ? undefined : parse(value)
  return isRefusal(entry) ? undefined : entry
}

/** Bytes that somebody changed need not be JSON, nor JSON in its canonical form. */
function canonicalValue(text: string): unknown {
  try {
    const value: unknown = JSON.parse(text)
    return canonical(value) === text ? value : undefined
  } catch {
    return undefined
  }
}

function keptFaults(rows: readonly EntryRow[], kept: End): readonly Fault[] {
  const found = { count: rows.length, head: rows.at(-1)?.hash ?? beginning }
  if (found.count === kept.count && found.head === kept.head) return []
  return [
    {
      place:
        found.count < kept.count ? `after entry ${found.count - 1}` : `entry ${Math.min(kept.count, found.count - 1)}`,
      found: `${found.count} entries that end in ${found.head}`,
      needed: `${kept.count} entries that end in ${kept.head}, as the archive keeps it`
    }
  ]
}

function printedFaults(rows: readonly EntryRow[], printed: End): readonly Fault[] {
  const there = printed.count === 0 ? beginning : rows[printed.count - 1]?.hash
  if (there === printed.head) return []
  const found = there === undefined ? `${rows.length} entries in all` : `hash ${there}`
  return [{ place: placeName(printed.count - 1), found, needed: `${printed.head}, as the report has it` }]
}
