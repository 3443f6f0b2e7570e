import { heldOn, momentOf, type Registers } from '../plan/index.ts'
import type { Fault } from './intact.ts'
import type { HeldRow } from './kinds/registering.ts'
import type { Entry } from './kinds.ts'
import type { EntryRow } from './row.ts'
import type { ShopEntry } from './shop/kinds.ts'
import { registersOf, rowIn } from './shop/replay.ts'
import { signatureOf } from './signing.ts'

/** The shop's own record, where it is at hand: sound, and with its documents. */
export interface ShopAtHand {
  readonly rows: readonly EntryRow[]
  readonly document: (hash: string) => string | undefined
}

/** A signature of a job, and how its person stood in the register when it was made. */
export interface SignerLine {
  readonly seq: number
  readonly name: string
  readonly at: string
  readonly held: boolean
}

/**
 * A verdict of its own: whether those who signed, and what was used, stood in the registers of the shop. Where these are
 * not at hand it says so: a signature that holds is not yet the signature of somebody whom the shop knows.
 */
export interface RegistersVerdict {
  readonly checked: boolean
  /** why it was not checked */
  readonly why?: string
  /** of every signature where it was checked; how many there are, where not */
  readonly signers: readonly SignerLine[]
  readonly signatures: number
  readonly faults: readonly Fault[]
}

interface Sound {
  readonly seq: number
  readonly entry: Entry
}

/** `shop`: the shop's record, or in words why there is none to check against. */
export function registersVerdict(sound: readonly Sound[], shop: ShopAtHand | string): RegistersVerdict {
  const signed = sound.filter(({ entry }) => signatureOf(entry) !== undefined)
  const why = typeof shop === 'string' ? shop : otherShop(sound, shop)
  if (typeof shop === 'string' || why !== undefined)
    return { checked: false, ...(why === undefined ? {} : { why }), signers: [], signatures: signed.length, faults: [] }
  const registersAt = registersByTime(shop)
  const looked = signed.map((one) => ({ one, found: signerFault(one, shop, registersAt) }))
  const signers = looked.map(({ one: { seq, entry }, found }) => ({
    ...{ seq, name: entry.by.name, at: entry.at.time, held: found === undefined }
  }))
  const faults = [...looked.flatMap(({ found }) => found ?? []), ...sound.flatMap((one) => rowFaults(one, shop))]
  return { checked: true, signers, signatures: signed.length, faults }
}

/** A job that says whose registers it rests on is checked against no others. */
function otherShop(sound: readonly Sound[], { rows }: ShopAtHand): string | undefined {
  const firsts = sound.flatMap(({ entry }) => (entry.kind === 'held-in-register' ? [entry.shop.first] : []))
  return firsts.every((first) => first === rows[0]?.hash) ? undefined : 'the registers here are those of another shop'
}

type RegistersAt = (time: string) => Registers

/** The registers as they were at a moment: what was registered later was not there yet. */
function registersByTime({ rows, document }: ShopAtHand): RegistersAt {
  const times = rows.map(({ body }) => secondsOf((JSON.parse(body) as ShopEntry).at.time))
  const byCount = new Map<number, Registers>()
  return (time) => {
    const later = times.findIndex((one) => one > secondsOf(time))
    const count = later < 0 ? rows.length : later
    const registers = byCount.get(count) ?? registersOf(rows.slice(0, count), document)
    byCount.set(count, registers)
    return registers
  }
}

/** A time without an offset stands as it is written. */
const secondsOf = (time: string): number => momentOf(time)?.seconds ?? 0

function signerFault({ seq, entry }: Sound, shop: ShopAtHand, registersAt: RegistersAt): Fault | undefined {
  const day = entry.at.time.slice(0, 10)
  const held = heldOn(registersAt(entry.at.time), { what: 'person', name: entry.by.name }, day)
  const place = `entry ${seq}, signature of ${entry.by.name}`
  const needed = `the row that the register had for ${entry.by.name} on ${day}`
  if (!('registered' in held)) return { place, found: held.state, needed }
  const { document } = held.registered
  const person = signatureOf(entry)?.person
  if (document !== person) return { place, found: otherRow(shop, document, person), needed: `${needed}: ${document}` }
  const isOut = held.state === 'expired' || held.state === 'not yet in force'
  return isOut ? { place, found: `a row that is ${held.state} on that day`, needed: 'a row that holds' } : undefined
}

function otherRow({ document }: ShopAtHand, ruling: string, signed: string | undefined): string {
  const [there, here] = [ruling, signed ?? ''].map((hash) => rowIn(document(hash)))
  const isSame = there?.register === 'person' && here?.register === 'person' && there.key.public === here.key.public
  return isSame ? `${signed}, another row with the same key` : `${signed}, whose key the register did not have then`
}

/** What the job keeps of the registers stands in the shop's record where the job says. */
function rowFaults({ seq, entry }: Sound, shop: ShopAtHand): readonly Fault[] {
  if (entry.kind !== 'held-in-register') return []
  return entry.rows.flatMap((held) => {
    const found = whereabouts(held, shop)
    const place = `entry ${seq}, ${held.what} ${held.name}`
    return found === undefined
      ? []
      : [{ place, found, needed: `entry ${held.seq} of the registers with hash ${held.entry}` }]
  })
}

function whereabouts({ seq, entry, document }: HeldRow, { rows }: ShopAtHand): string | undefined {
  const row = rows[seq]
  if (row === undefined) return 'no such entry'
  if (row.hash !== entry) return `an entry with hash ${row.hash}`
  const named = (JSON.parse(row.body) as { readonly document?: string }).document
  return named === document ? undefined : `an entry that registers ${named ?? 'nothing'}`
}
