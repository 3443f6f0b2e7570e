import { type KeyObject, randomBytes } from 'node:crypto'
import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import type { PersonRow } from '@trueloop/job/plan'
import { type Code, refuse } from './codes.ts'
import { type Found, type KeyPlace, keyFilesOf, pathOf, writeKeyFile } from './disk.ts'
import { keyFrom, newSeed, publicOf, signatureOf } from './ed25519.ts'
import { seal, unseal } from './envelope.ts'
import { besideOf, damaged, type KeyFile } from './form.ts'
import { checkPassphrase, sameText } from './passphrase.ts'
import { type Cost, cost, stretch } from './stretch.ts'

export type { KeyPlace } from './disk.ts'

/** A person's key, open: it can sign until the program ends. */
export interface Key {
  readonly name: string
  /** Ed25519, 32 bytes in base64 */
  readonly public: string
  /** signature of a text (UTF-8), 64 bytes in base64 */
  readonly sign: (text: string) => string
}

/** A person whose key is open, with the row of the register that names its public half. */
export interface Signer {
  /** name of the row's document */
  readonly person: string
  readonly row: PersonRow
  /** signature of a text (UTF-8), Ed25519 in base64 */
  readonly sign: (text: string) => string
}

export interface Making {
  /** a key that is there already stays, and this one is made beside it: the register says which holds */
  readonly beside?: boolean
  readonly cost?: Cost
}

const text64 = (bytes: Uint8Array): string => Buffer.from(bytes).toString('base64')
const bytes64 = (text: string): Uint8Array => Buffer.from(text, 'base64')

/**
 * Makes a key for a person, sealed under their passphrase; gives its public half.
 * Refuses `keys/short-passphrase`, `keys/exists`, `keys/damaged`, `keys/unreachable`.
 */
export async function makeKey(place: KeyPlace, passphrase: string, making: Making = {}): Promise<Result<string, Code>> {
  const no = checkPassphrase(passphrase)
  if (no !== undefined) return no
  const there = await keyFilesOf(place)
  if (isRefusal(there)) return there
  if (there[0] !== undefined && making.beside !== true) return exists(there[0])
  const seed = newSeed()
  const file = await sealed(place.name, seed, { passphrase, work: making.cost ?? cost })
  const written = await writeKeyFile(pathOf(place, file.public), file)
  return isRefusal(written) ? written : file.public
}

interface Sealing {
  readonly passphrase: string
  readonly work: Cost
}

async function sealed(name: string, seed: Uint8Array, { passphrase, work }: Sealing): Promise<KeyFile> {
  const salt = randomBytes(16)
  const nonce = randomBytes(12)
  const { N, r, p } = work
  const open = {
    ...{ trueloop: 'key/1' as const, name, public: text64(publicOf(keyFrom(seed))) },
    ...{ scrypt: { N, r, p, salt: text64(salt) }, nonce: text64(nonce) }
  }
  const key = await stretch(sameText(passphrase), salt, work)
  const box = seal(seed, { key, nonce, beside: besideOf(open) })
  return { ...open, sealed: text64(box.sealed), tag: text64(box.tag) }
}

/** Which of a person's keys: the one that the register names; without a name, the only one. */
export interface WhichKey extends KeyPlace {
  readonly public?: string
}

/**
 * Opens a person's key. Refuses `keys/no-key`, `keys/wrong-passphrase`, `keys/damaged`, `keys/unreachable`.
 */
export async function unlock(which: WhichKey, passphrase: string): Promise<Result<Key, Code>> {
  const found = await keyFileOf(which)
  if (isRefusal(found)) return found
  const seed = await seedIn(found, passphrase)
  return isRefusal(seed) ? seed : keyOf(found.file, keyFrom(seed))
}

const keyOf = ({ name, public: publicKey }: KeyFile, key: KeyObject): Key => ({
  name,
  public: publicKey,
  sign: (text) => text64(signatureOf(key, Buffer.from(text, 'utf8')))
})

/** The file of a key, unopened. Refuses `keys/no-key`, `keys/damaged`, `keys/unreachable`. */
export async function keyFileOf(which: WhichKey): Promise<Result<Found, Code>> {
  const all = await keyFilesOf(which)
  if (isRefusal(all)) return all
  const one = all.find(({ file }) => which.public === undefined || file.public === which.public)
  return one ?? noKey(which, all)
}

async function seedIn({ path, file }: Found, passphrase: string): Promise<Result<Uint8Array, Code>> {
  const key = await stretch(sameText(passphrase), bytes64(file.scrypt.salt), file.scrypt)
  const box = { nonce: bytes64(file.nonce), sealed: bytes64(file.sealed), tag: bytes64(file.tag) }
  const seed = unseal(box, { key, nonce: box.nonce, beside: besideOf(file) })
  if (seed === undefined) return wrongPassphrase(path, file.name)
  return text64(publicOf(keyFrom(seed))) === file.public ? seed : damaged(path, 'a public half that is of another key')
}

/**
 * Seals a key anew under another passphrase; the key stays the same, and so does the register.
 * Refuses what `unlock` refuses, and `keys/short-passphrase`.
 */
export async function changePassphrase(
  which: WhichKey,
  { from, to }: { readonly from: string; readonly to: string },
  { cost: work = cost }: Pick<Making, 'cost'> = {}
): Promise<Result<undefined, Code>> {
  const no = checkPassphrase(to)
  if (no !== undefined) return no
  const found = await keyFileOf(which)
  if (isRefusal(found)) return found
  const seed = await seedIn(found, from)
  if (isRefusal(seed)) return seed
  return writeKeyFile(found.path, await sealed(which.name, seed, { passphrase: to, work }))
}

const exists = ({ path, file }: Found): Refusal<Code> =>
  refuse('keys/exists', {
    found: `a key of ${file.name}, public half ${file.public}`,
    needed: 'a person without a key on this computer',
    remedy: 'change its passphrase (key change), or have a lost key replaced by a second person (key replace)',
    where: { file: path }
  })

const noKey = ({ folder, name, public: wanted }: WhichKey, all: readonly Found[]): Refusal<Code> =>
  refuse('keys/no-key', {
    found: all.length === 0 ? `no key of ${name}` : `keys of ${name}, none with the public half ${wanted}`,
    needed: 'the key file that the register names, on this computer',
    remedy: 'copy the key file here from where it was made, or make one: key new; a lost one is replaced: key replace',
    where: { file: folder }
  })

const wrongPassphrase = (path: string, name: string): Refusal<Code> =>
  refuse('keys/wrong-passphrase', {
    found: `a passphrase that does not open the key of ${name}, or a key file that was changed: the two can not be told apart`,
    needed: 'the passphrase under which this very file was written',
    remedy:
      'type it again; then try a copy of the file; a key that nobody can open is replaced by a second person of Level III: key replace',
    where: { file: path }
  })
