import type { Refusal } from '@trueloop/ground/refusal'
import { type Code, refuse } from '../codes.ts'

/** A line of a ZIP's directory as it was read: nothing of it is believed yet. */
export interface Claim {
  /** the bytes of the name */
  readonly rawName: Uint8Array
  readonly flags: number
  readonly method: number
  readonly attributes: number
  readonly bytes: number
  readonly crc: number
}

/** How much a bundle may hold; what is stored can't be more than the file is long. */
export const most = { members: 200_000, textBytes: 500_000_000 } as const

export const nameOf = ({ rawName }: Claim): string => Buffer.from(rawName).toString('latin1')

/**
 * Why a member can't be taken, looked at by its line alone and by the lines before it.
 * Refuses bundle/unsafe-name, bundle/doubled-name, bundle/link, bundle/encrypted, bundle/compressed, bundle/too-large.
 */
export function claimComplaint(claim: Claim, before: ReadonlySet<string>): Refusal<Code> | undefined {
  const name = nameOf(claim)
  if (!isSafe(name)) return unsafe(name)
  if (before.has(name.toLowerCase())) return doubled(name)
  if (isLink(claim)) return link(name)
  if ((claim.flags & encryptedBits) !== 0) return encrypted(name)
  if (claim.method !== 0) return compressed(name)
  return isText(name) && claim.bytes > most.textBytes ? tooLarge(`${name} of ${claim.bytes} bytes`) : undefined
}

/** encrypted, strongly encrypted, directory encrypted. source: zip-appnote-6-3, 4.4.4 */
const encryptedBits = 0x1 | 0x40 | 0x2000

/** Only originals are read piece by piece; everything else has to be held as one text. */
const isText = (name: string): boolean => !/^originals\/[0-9a-f]{64}$/.test(name)

const isSafe = (name: string): boolean =>
  /^[\x20-\x7e]{1,255}$/.test(name) &&
  !/[\\:*?"<>|]/.test(name) &&
  name.split('/').every((part) => part !== '' && part !== '.' && part !== '..')

/** Unix keeps the kind of file in the upper half of the attributes. */
function isLink({ attributes }: Claim): boolean {
  const fileKind = (attributes >>> 16) & 0o170000
  return fileKind !== 0 && fileKind !== 0o100000
}

const shown = (name: string): string => JSON.stringify(name.slice(0, 200))

const unsafe = (name: string) =>
  refuse('bundle/unsafe-name', {
    found: `a member of the ZIP with the name ${shown(name)}`,
    needed: 'names inside the bundle: no absolute path, no "..", no backslash, no drive letter, ASCII',
    remedy: 'do not unpack this file; ask for the bundle again from where it was exported'
  })

const doubled = (name: string) =>
  refuse('bundle/doubled-name', {
    found: `a second member with the name ${shown(name)}, upper and lower case not told apart`,
    needed: 'every name once',
    remedy: 'do not unpack this file; ask for the bundle again from where it was exported'
  })

const link = (name: string) =>
  refuse('bundle/link', {
    found: `${shown(name)}, which is a link, a folder or a device`,
    needed: 'plain files only',
    remedy: 'do not unpack this file; ask for the bundle again from where it was exported'
  })

const encrypted = (name: string) =>
  refuse('bundle/encrypted', {
    found: `${shown(name)} in encrypted form`,
    needed: 'a bundle as export writes it, not encrypted',
    remedy: 'decrypt it where it was encrypted, and hand over the file that export wrote'
  })

const compressed = (name: string) =>
  refuse('bundle/compressed', {
    found: `${shown(name)} in compressed form`,
    needed: 'stored members: a bundle unpacks to no more than its own length',
    remedy: 'hand over the file that export wrote, not one that was packed anew'
  })

export const tooLarge = (found: string) =>
  refuse('bundle/too-large', {
    found,
    needed: `at most ${most.members} members; texts of at most ${most.textBytes} bytes; not more in all than the file is long`,
    remedy: 'ask for the bundle again from where it was exported'
  })
