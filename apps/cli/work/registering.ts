import { isRefusal, type Refusal, type Result, refuser } from '@trueloop/ground/refusal'
import type { Archive } from '@trueloop/host/archive'
import { today } from '@trueloop/host/clock'
import { keyFileOf, makeKey, type Signer } from '@trueloop/host/keys'
import type { Placer } from '@trueloop/host/sheet'
import { type RegisteredRows, readShop, registerRows, type Shop } from '@trueloop/host/shop'
import { keysFolder, openKey, registeredPerson } from '@trueloop/host/signing'
import { heldOn, type PersonRow, type PlacedRow, pathText, type RegisterRow } from '@trueloop/job/plan'
import { codes } from '../codes.ts'
import { withArchive } from './archive.ts'
import { chosenPassphrase, ownPassphrase, passphraseOf } from './passphrase.ts'

const refuse = refuser(codes)

/** Rows of a file, and who registers them. */
export interface Registering {
  readonly home: string
  readonly as: string
  readonly rows: readonly PlacedRow[]
  readonly place: Placer
  readonly passphraseFile?: string | undefined
}

/**
 * Registers the rows of a file, signed. Who stands in the file and signs it, and has no key yet, makes one here.
 * Refuses cli/no-key, and what keys, passphrases and the registers refuse; then nothing is registered.
 */
export async function registerFile(registering: Registering): Promise<Result<RegisteredRows>> {
  const passphrase = await passphraseFor(registering)
  if (isRefusal(passphrase)) return passphrase
  return withArchive((archive) => registerIn(archive, registering, passphrase), registering.home)
}

/** Asked for before the archive is opened. Where there is no key yet, the passphrase is chosen, and the key made. */
async function passphraseFor({ home, as, rows, passphraseFile }: Registering): Promise<Result<string>> {
  const place = { folder: keysFolder(home), name: as }
  const key = await keyFileOf(place)
  const from = ownPassphrase(passphraseFile)
  if (!isRefusal(key)) return passphraseOf(as, from)
  const own = rows.find(({ row }) => row.register === 'person' && row.name === as)?.row
  const isNew = own?.register === 'person' && own.key === undefined
  if (key.code !== 'keys/no-key' || !isNew) return key
  const chosen = await chosenPassphrase(as, from)
  if (isRefusal(chosen)) return chosen
  const made = await makeKey(place, chosen)
  return isRefusal(made) ? made : chosen
}

async function registerIn(
  archive: Archive,
  registering: Registering,
  passphrase: string
): Promise<Result<RegisteredRows>> {
  const shop = await readShop(archive)
  if (isRefusal(shop)) return shop
  const rows = await wholeRows(registering, shop)
  if (isRefusal(rows)) return rows
  const signer = await signerIn(archive, { ...registering, passphrase }, shop.rows.length === 0 ? rows : undefined)
  return isRefusal(signer) ? signer : registerRows(rows, { archive, signer })
}

/** Who signs: the row that rules for them; the first person brings their own. The registers judge their dates. */
async function signerIn(
  archive: Archive,
  { home, as, passphrase }: Registering & { readonly passphrase: string },
  first: readonly RegisterRow[] | undefined
): Promise<Result<Signer>> {
  const own = first?.find((row): row is PersonRow => row.register === 'person' && row.name === as)
  if (own === undefined) {
    const found = await registeredPerson(as, archive)
    return isRefusal(found) ? found : openKey(found, { home, passphrase })
  }
  const document = await archive.storeDocument('person', own)
  return isRefusal(document) ? document : openKey({ row: own, document }, { home, passphrase })
}

/** The rows with the keys of people: as registered, else as made on this computer. Every missing one is named. */
async function wholeRows(registering: Registering, shop: Shop): Promise<Result<readonly RegisterRow[]>> {
  const rows: RegisterRow[] = []
  for (const placed of registering.rows) {
    const key = await keyFor(placed, registering, shop)
    if (isRefusal(key)) return key
    rows.push({ ...placed.row, ...key } as RegisterRow)
  }
  return rows
}

async function keyFor({ row, steps }: PlacedRow, { home, place }: Registering, { registers }: Shop) {
  if (row.register !== 'person' || row.key !== undefined) return {}
  const held = heldOn(registers, { what: 'person', name: row.name }, today())
  if ('registered' in held && held.registered.row.register === 'person') return { key: held.registered.row.key }
  const file = await keyFileOf({ folder: keysFolder(home), name: row.name })
  if (!isRefusal(file)) return { key: { kind: 'Ed25519' as const, public: file.file.public } }
  return file.code === 'keys/no-key' ? place(noKey(row.name, pathText(steps))) : file
}

const noKey = (name: string, path: string): Refusal =>
  refuse('cli/no-key', {
    found: `${name}, who has no key yet`,
    needed: 'a key that the person made, under a passphrase that nobody else knows',
    remedy: `let ${name} run: trueloop key new "${name}"; or write the public half of their key into the row`,
    where: { path }
  })
