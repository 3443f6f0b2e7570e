import type { Refusal, Result } from '@trueloop/ground/refusal'
import { canonical } from '@trueloop/job/record'
import { type Code, refuse } from './codes.ts'
import { type Cost, isCost } from './stretch.ts'

/** What a key file holds. All but the sealed private key lies open, and can't be changed without breaking the seal. */
export interface KeyFile {
  readonly trueloop: 'key/1'
  readonly name: string
  /** Ed25519, 32 bytes in base64 */
  readonly public: string
  readonly scrypt: Cost & { readonly salt: string }
  /** AES-256-GCM */
  readonly nonce: string
  readonly sealed: string
  readonly tag: string
}

export type OpenPart = Omit<KeyFile, 'sealed' | 'tag'>

/** The bytes that the seal binds the secret to. */
export const besideOf = ({ trueloop, name, public: key, scrypt: { N, r, p, salt }, nonce }: OpenPart): Uint8Array =>
  Buffer.from(canonical({ trueloop, name, public: key, scrypt: { N, r, p, salt }, nonce }), 'utf8')

export const fileText = (file: KeyFile): string => `${JSON.stringify(file, null, 2)}\n`

/** Reads what `fileText` wrote. Refuses `keys/damaged`. */
export function readForm(text: string, path: string): Result<KeyFile, Code> {
  const found = parsed(text)
  const wrong = found === undefined ? 'what is no JSON' : complaint(found)
  return wrong === undefined ? (found as unknown as KeyFile) : damaged(path, wrong)
}

type Json = Readonly<Record<string, unknown>>

function parsed(text: string): Json | undefined {
  try {
    const value: unknown = JSON.parse(text)
    return typeof value === 'object' && value !== null ? (value as Json) : undefined
  } catch {
    return undefined
  }
}

function complaint(found: Json): string | undefined {
  if (found.trueloop !== 'key/1') return `a file of kind ${JSON.stringify(found.trueloop) ?? 'unknown'}`
  if (typeof found.name !== 'string' || found.name === '') return 'no name'
  const { salt, ...work } = (found.scrypt ?? {}) as Cost & { readonly salt?: unknown }
  if (!isCost(work)) return 'a cost that this program does not work'
  if (lengthOf(salt) !== 16) return 'no salt of 16 bytes'
  const wrong = lengths.find(([key, length]) => lengthOf(found[key]) !== length)
  return wrong === undefined ? undefined : `no ${wrong[0]} of ${wrong[1]} bytes`
}

const lengths = [
  ['public', 32],
  ['nonce', 12],
  ['sealed', 32],
  ['tag', 16]
] as const

/** Bytes in base64; -1 where it is none. */
function lengthOf(value: unknown): number {
  if (typeof value !== 'string') return -1
  const bytes = Buffer.from(value, 'base64')
  return bytes.toString('base64') === value ? bytes.length : -1
}

export const damaged = (path: string, found: string): Refusal<Code> =>
  refuse('keys/damaged', {
    found: `a key file with ${found}`,
    needed: 'a key file as this program wrote it',
    remedy: 'restore it from a copy; where there is none, the key is lost and a second person of Level III replaces it',
    where: { file: path }
  })
