import { join } from 'node:path'
import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import { heldOn, namesIn, type PersonRow, type Registered, type SpanStanding, standingsOn } from '@trueloop/job/plan'
import type { Archive } from '../archive/index.ts'
import { today } from '../clock/index.ts'
import { keyFileOf, type Signer, unlock } from '../keys/index.ts'
import { readShop } from '../shop/index.ts'
import { refuse } from './codes.ts'

export const keysFolder = (home: string): string => join(home, 'keys')

/** What is needed to open a person's key. */
export interface Unlocking {
  /** data folder, in which the keys lie */
  readonly home: string
  readonly passphrase: string
  /** the day on which they sign: today, where none is named */
  readonly day?: string
}

/** A person whose key is open, and for how long they may sign. */
export interface SigningPerson {
  readonly signer: Signer
  /** last day on which their certificate and near vision both hold; absent where no end is stated */
  readonly until?: string
  /** what falls due within a month */
  readonly due: readonly SpanStanding[]
}

/**
 * A person who signs today: in the register, their certificate and near vision in force, their key opened.
 * Refuses signing/not-registered, signing/person-expired, and what `unlock` does.
 */
export async function signerFor(name: string, archive: Archive, unlocking: Unlocking): Promise<Result<SigningPerson>> {
  const { day = today() } = unlocking
  const found = await registeredPerson(name, archive, day)
  if (isRefusal(found)) return found
  const standings = standingsOn(found.row, day)
  const out = standings.find(isOut)
  if (out !== undefined) return expired(name, out, day)
  const signer = await openKey(found, unlocking)
  if (isRefusal(signer)) return signer
  return { signer, ...untilOf(standings), due: standings.filter(({ standing }) => standing === 'falls due') }
}

const isOut = ({ standing }: SpanStanding): boolean => standing === 'expired' || standing === 'not yet in force'

function untilOf(standings: readonly SpanStanding[]): Pick<SigningPerson, 'until'> {
  const days = standings.flatMap(({ until }) => (until === undefined ? [] : [until])).sort()
  return days[0] === undefined ? {} : { until: days[0] }
}

/** A person's row with its document. */
export interface FoundPerson extends Registered {
  readonly row: PersonRow
}

/** The row that rules for a person on a day, in force or not. Refuses signing/not-registered. */
export async function registeredPerson(name: string, archive: Archive, day = today()): Promise<Result<FoundPerson>> {
  const shop = await readShop(archive)
  if (isRefusal(shop)) return shop
  const held = heldOn(shop.registers, { what: 'person', name }, day)
  if ('registered' in held && held.registered.row.register === 'person') return held.registered as FoundPerson
  return notRegistered(name, shop.rows.length === 0 ? 'no registers in this archive' : held.state)
}

/** Opens the key that the register names for a person. Refuses what `unlock` does. */
export async function openKey(
  { row, document }: Pick<FoundPerson, 'row' | 'document'>,
  { home, passphrase }: Pick<Unlocking, 'home' | 'passphrase'>
): Promise<Result<Signer>> {
  const which = { folder: keysFolder(home), name: row.name, public: row.key.public }
  const key = await unlock(which, passphrase)
  return isRefusal(key) ? key : { person: document, row, sign: key.sign }
}

/** A person of the register, whether they may sign today, and whether their key lies on this computer. */
export interface Signatory {
  readonly name: string
  readonly level: PersonRow['level']
  readonly may: boolean
  readonly key: boolean
  /** why not: what has run out, or is not in force yet */
  readonly why?: string
}

/** Everybody who stands in the register on a day; none where the archive has no registers. */
export async function signatories(
  archive: Archive,
  home: string,
  day = today()
): Promise<Result<readonly Signatory[]>> {
  const shop = await readShop(archive)
  if (isRefusal(shop)) return shop
  const all: Signatory[] = []
  for (const { what, name } of namesIn(shop.registers)) {
    const held = what === 'person' ? heldOn(shop.registers, { what, name }, day) : undefined
    const row = held !== undefined && 'registered' in held ? held.registered.row : undefined
    if (row?.register === 'person') all.push(await signatoryOf(row, home, day))
  }
  return all
}

async function signatoryOf(row: PersonRow, home: string, day: string): Promise<Signatory> {
  const { name, level, key } = row
  const file = await keyFileOf({ folder: keysFolder(home), name, public: key.public })
  const out = standingsOn(row, day).find(isOut)
  const why = out === undefined ? {} : { why: `${out.of}, ${out.standing} (from ${out.from} to ${out.until})` }
  return { name, level, may: out === undefined && !isRefusal(file), key: !isRefusal(file), ...why }
}

export const dueText = (name: string, { of, until, left_days }: SpanStanding): string =>
  `${of} of ${name} falls due: last day ${until}, in ${left_days} days`

const expired = (name: string, { of, from, until, standing }: SpanStanding, day: string): Refusal =>
  refuse('signing/person-expired', {
    found: `${of} of ${name}, ${standing} on ${day} (from ${from} to ${until})`,
    needed: 'a certificate and near vision that hold today',
    remedy: 'let another person sign, or have the renewed row registered: register FILE --as a Level III'
  })

const notRegistered = (name: string, found: string): Refusal =>
  refuse('signing/not-registered', {
    found: `${name}: ${found}`,
    needed: 'a person who stands in the register',
    remedy: 'correct the name (`trueloop register` lists them), or have the person registered by a Level III'
  })
