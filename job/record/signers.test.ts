import { isRefusal } from '@trueloop/ground/refusal'
import { describe, expect, it } from 'vitest'
import { nameOfRow, type RegisterRow } from '../plan/index.ts'
import { canonical } from './canonical.ts'
import { append, chainOf, type EntryRow } from './chain.ts'
import type { Entry } from './kinds.ts'
import { appendShop, shopChainOf } from './shop/index.ts'
import {
  head,
  type Invented,
  invent,
  kept,
  opened,
  personStored,
  sha256,
  signedBy,
  witnessOf
} from './testing/index.ts'
import { documentOf, type ShopDraft, shopEntry, shopWitness } from './testing/shop.ts'
import { verify } from './verify.ts'

/**
 * Oracle: somebody who owns the archive, and signs under a name with a key of their own. Everything in the job fits then;
 * only the registers of the shop know whose key is whose. Signatures are made on 2026-03-14 at 09:00.
 */

const three = invent('C. Three', 'III')
const two = invent('B. Two')
const stranger = invent('B. Two')
const renewed = { ...two, row: { ...two.row, near_vision: { examined: '2026-03-01', expires: '2027-02-28' } } }
const later = { ...renewed, document: documentOf(renewed.row) }
const everybody = [three, two, stranger, later]
const probe: RegisterRow = {
  ...{ register: 'probe', version: 1, serial: 'P-1', type: 'differential' },
  coil: { width_mm: 1.5, frequency_kHz: { least: 100, most: 1000 } }
}
const witness = shopWitness(everybody, [probe])

type Timed = readonly [draft: ShopDraft, time: string]

const at = (hour: string) => `2026-03-14T${hour}:00Z`
const registered = (row: RegisterRow): ShopDraft => ({
  ...{ kind: 'registered', what: row.register, name: nameOfRow(row), document: documentOf(row) }
})

function shopOf(...rest: readonly Timed[]): readonly EntryRow[] {
  const first: Timed = [{ kind: 'shop-opened', name: 'C. Three', document: three.document }, at('07:00')]
  const rows: EntryRow[] = []
  for (const [draft, time] of [first, ...rest]) {
    const adding = { expectedSeq: rows.length, entries: [shopEntry(three, draft, rows, time)] }
    const done = appendShop(shopChainOf([...rows], witness), adding, sha256)
    if (isRefusal(done)) throw new Error(done.found)
    rows.push(...done.fresh)
  }
  return rows
}

const plain = () => shopOf([registered(two.row), at('08:00')], [registered(probe), at('08:01')])

/** A job in which one person has left a hole out, with or without a kept row of the registers. */
function job(by: Invented, shop: readonly EntryRow[], held: Partial<Held> = {}): readonly EntryRow[] {
  const before: readonly Entry[] = [
    ...[{ ...opened('J', ['1']), signing: 'required' as const }, personStored(by)],
    ...[kept('ref', { of: 'reference' }), heldEntry(shop, held)]
  ]
  const rows = added([], before)
  const draft = { kind: 'left-out', subject: { of: 'hole', name: '1' }, reason: 'no access' }
  return added(rows, [
    signedBy(by, { version: 1, ...head(), ...draft } as never, { job: 'J', head: rows.at(-1)!.hash })
  ])
}

interface Held {
  readonly seq: number
  readonly entry: string
  readonly first: string
}

function heldEntry(shop: readonly EntryRow[], { seq = 2, entry, first }: Partial<Held>): Entry {
  const row = { what: 'probe' as const, name: 'P-1', edition: '', document: documentOf(probe), spans: [] }
  return {
    ...{ kind: 'held-in-register', version: 1, ...head(), day: '2026-03-14' },
    shop: { first: first ?? shop[0]!.hash, count: shop.length, head: shop.at(-1)!.hash },
    rows: [{ ...row, seq, entry: entry ?? shop[seq]!.hash }]
  }
}

function added(rows: readonly EntryRow[], entries: readonly Entry[]): readonly EntryRow[] {
  const chain = chainOf('J', rows, witnessOf(everybody))
  const done = append(chain, { expectedSeq: rows.length, entries }, sha256)
  if (isRefusal(done)) throw new Error(done.found)
  return [...rows, ...done.fresh]
}

async function verdict(rows: readonly EntryRow[], shop?: readonly EntryRow[]) {
  const { registers } = await verify({
    ...{ rows, hash: sha256, holds: witness.holds },
    original: async (name) => name,
    document: async (name) => witness.document(name),
    ...(shop === undefined ? {} : { shop: { rows: shop, document: witness.document } })
  })
  return registers
}

const placesOf = async (...asked: Parameters<typeof verdict>) =>
  (await verdict(...asked)).faults.map(({ place, found }) => [place, found])

describe('who signed, against the registers', () => {
  it('stood there with that key', async () => {
    const shop = plain()
    expect(await verdict(job(two, shop), shop)).toEqual({
      ...{ checked: true, signatures: 1, faults: [] },
      signers: [{ seq: 4, name: 'B. Two', at: '2026-03-14T09:00:00Z', held: true }]
    })
  })

  it('is not checked where the registers are not at hand, and that is said', async () => {
    expect(await verdict(job(two, plain()))).toEqual({
      ...{ checked: false, why: 'the registers of its shop are not at hand', signers: [] },
      ...{ signatures: 1, faults: [] }
    })
  })

  it('is not checked against the registers of another shop', async () => {
    const rows = job(two, plain(), { first: sha256('another shop') })
    expect(await verdict(rows, plain())).toMatchObject({
      checked: false,
      why: 'the registers here are those of another shop'
    })
  })

  it.each<[string, Invented, () => readonly EntryRow[], RegExp]>([
    ['has a key that the register does not have', stranger, plain, /whose key the register did not have then/],
    ['is unknown to the register', two, () => shopOf([registered(probe), at('08:00')]), /^not registered$/],
    [
      'was registered only afterward',
      two,
      () => shopOf([registered(probe), at('08:00')], [registered(two.row), at('09:30')]),
      /^not registered$/
    ],
    [
      'was struck off before',
      two,
      () => {
        const out = { kind: 'struck-off', what: 'person', name: 'B. Two', from: '2026-03-14', reason: 'left' } as const
        return shopOf([registered(two.row), at('08:00')], [registered(probe), at('08:01')], [out, at('08:30')])
      },
      /^struck off$/
    ],
    [
      'signs under a row that another has followed',
      two,
      () =>
        shopOf(
          [registered(two.row), at('08:00')],
          [registered(later.row), at('08:30')],
          [registered(probe), at('08:31')]
        ),
      /another row with the same key$/
    ]
  ])('%s', async (_, by, shopRows, found) => {
    const shop = shopRows()
    const seq = shop.findIndex(({ body }) => body.includes('"P-1"'))
    const faults = await placesOf(job(by, shop, { seq }), shop)
    expect(faults).toEqual([['entry 4, signature of B. Two', expect.stringMatching(found)]])
  })

  it('stands, whatever the register says from a later hour on', async () => {
    const shop = shopOf(
      [registered(two.row), at('08:00')],
      [registered(probe), at('08:01')],
      [registered(later.row), at('09:30')]
    )
    expect(await placesOf(job(two, shop), shop)).toEqual([])
  })
})

describe('rows that a job keeps, against the registers', () => {
  it.each<[string, Partial<Held>, RegExp]>([
    ['are at another place', { seq: 1 }, /^an entry that registers [0-9a-f]{64}$/],
    ['have another hash there', { entry: sha256('x') }, /^an entry with hash/],
    ['are not there', { seq: 9, entry: sha256('x') }, /^no such entry$/]
  ])('%s', async (_, held, found) => {
    const shop = plain()
    expect(await placesOf(job(two, shop, held), shop)).toEqual([['entry 3, probe P-1', expect.stringMatching(found)]])
  })

  it('are not read into a shop whose documents are gone', async () => {
    const shop = plain()
    const { registers } = await verify({
      ...{ rows: job(two, shop), hash: sha256, holds: witness.holds, shop: { rows: shop, document: () => undefined } },
      original: async (name) => name,
      document: async (name) => witness.document(name)
    })
    expect(registers.signers).toMatchObject([{ held: false }])
    expect(canonical(registers.faults[0]?.found)).toBe('"not registered"')
  })
})
