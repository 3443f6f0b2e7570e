import { join } from 'node:path'
import { isRefusal, type Refusal, type Result, refuser } from '@trueloop/ground/refusal'
import type { Archive } from '@trueloop/host/archive'
import { today } from '@trueloop/host/clock'
import { type Signer, unlock } from '@trueloop/host/keys'
import { readShop } from '@trueloop/host/shop'
import { heldOn, type PersonRow, type Registered, type SpanStanding, standingsOn } from '@trueloop/job/plan'
import { codes } from '../codes.ts'
import { dataFolder } from '../home.ts'
import { withArchive } from './archive.ts'
import { ownPassphrase, passphraseOf } from './passphrase.ts'

const refuse = refuser(codes)

export const keysFolder = (home: string): string => join(home, 'keys')

/** What is needed to open a person's key. */
export interface Unlocking {
  /** data folder, in which the keys lie */
  readonly home: string
  readonly passphrase: string
  /** the day on which they sign: today, where none is named */
  readonly day?: string
}

/**
 * A person who signs today: in the register, their certificate and near vision in force, their key opened. What falls
 * due within a month is told on standard error. Refuses cli/not-registered, cli/person-expired, and what `unlock` does.
 */
export async function signerFor(name: string, archive: Archive, unlocking: Unlocking): Promise<Result<Signer>> {
  const { day = today() } = unlocking
  const found = await registeredPerson(name, archive, day)
  if (isRefusal(found)) return found
  const standings = standingsOn(found.row, day)
  const out = standings.find(({ standing }) => standing === 'expired' || standing === 'not yet in force')
  if (out !== undefined) return expired(name, out, day)
  for (const one of standings) if (one.standing === 'falls due') process.stderr.write(`${dueText(name, one)}\n`)
  return openKey(found, unlocking)
}

/** A person's row with its document. */
export interface FoundPerson extends Registered {
  readonly row: PersonRow
}

/** The row that rules for a person on a day, in force or not. Refuses cli/not-registered. */
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

export interface Signing {
  readonly home?: string | undefined
  /** a file whose first line is the passphrase */
  readonly passphraseFile?: string | undefined
}

/**
 * Does signed work: asks for the passphrase before the archive is opened, so that nobody waits for a person who types.
 */
export async function withSigner<T>(
  name: string,
  { home = dataFolder(), passphraseFile }: Signing,
  work: (archive: Archive, signer: Signer) => Promise<Result<T>>
): Promise<Result<T>> {
  const passphrase = await passphraseOf(name, ownPassphrase(passphraseFile))
  if (isRefusal(passphrase)) return passphrase
  return withArchive(async (archive) => {
    const signer = await signerFor(name, archive, { home, passphrase })
    return isRefusal(signer) ? signer : work(archive, signer)
  }, home)
}

const dueText = (name: string, { of, until, left_days }: SpanStanding): string =>
  `${of} of ${name} falls due: last day ${until}, in ${left_days} days`

const expired = (name: string, { of, from, until, standing }: SpanStanding, day: string): Refusal =>
  refuse('cli/person-expired', {
    found: `${of} of ${name}, ${standing} on ${day} (from ${from} to ${until})`,
    needed: 'a certificate and near vision that hold today',
    remedy: 'let another person sign, or have the renewed row registered: register FILE --as a Level III'
  })

const notRegistered = (name: string, found: string): Refusal =>
  refuse('cli/not-registered', {
    found: `${name}: ${found}`,
    needed: 'a person who stands in the register',
    remedy: 'correct the name (`trueloop register` lists them), or have the person registered by a Level III'
  })
