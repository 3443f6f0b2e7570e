import { readFile } from 'node:fs/promises'
import { isRefusal, type Refusal, type Result, refuser } from '@trueloop/ground/refusal'
import { checkPassphrase, fewestCharacters } from '@trueloop/host/keys'
import { codes } from '../codes.ts'
import { askHidden, canType, type Typing, terminal } from '../terminal/hidden.ts'
import { unreadable } from '../terminal/unreadable.ts'

const refuse = refuser(codes)

/** Where a passphrase comes from, where it is not typed: never from the command line, which others can read. */
export interface PassphraseFrom {
  /** a file whose first line it is */
  readonly file?: string | undefined
  /** name of the environment variable */
  readonly variable: 'TRUELOOP_PASSPHRASE' | 'TRUELOOP_NEW_PASSPHRASE'
}

export const ownPassphrase = (file?: string): PassphraseFrom => ({ file, variable: 'TRUELOOP_PASSPHRASE' })
export const newPassphrase = (file?: string): PassphraseFrom => ({ file, variable: 'TRUELOOP_NEW_PASSPHRASE' })

/** The passphrase of a person. Refuses cli/no-passphrase, cli/unreadable-file. */
export async function passphraseOf(name: string, from: PassphraseFrom): Promise<Result<string>> {
  const given = await notTyped(from)
  if (given !== undefined) return given
  return canType() ? askHidden(`passphrase of ${name}: `) : noPassphrase(name, from)
}

/**
 * A passphrase that a person chooses, typed twice where it is typed.
 * Refuses cli/no-passphrase, cli/unreadable-file, cli/passphrases-differ, keys/short-passphrase.
 */
export async function chosenPassphrase(
  name: string,
  from: PassphraseFrom,
  typing: Typing = terminal
): Promise<Result<string>> {
  const given = await notTyped(from)
  if (isRefusal(given)) return given
  if (given !== undefined) return checkPassphrase(given) ?? given
  if (!canType(typing)) return noPassphrase(name, from)
  const first = await askHidden(`${name} chooses a passphrase, at least ${fewestCharacters} characters: `, typing)
  const no = checkPassphrase(first)
  if (no !== undefined) return no
  return (await askHidden('the same again: ', typing)) === first ? first : differ(name)
}

async function notTyped({ file, variable }: PassphraseFrom): Promise<Result<string> | undefined> {
  if (file !== undefined) return firstLine(file)
  return process.env[variable] || undefined
}

async function firstLine(file: string): Promise<Result<string>> {
  try {
    return (await readFile(file, 'utf8')).split(/\r?\n/)[0] ?? ''
  } catch (error) {
    return unreadable(file, error)
  }
}

const noPassphrase = (name: string, { variable }: PassphraseFrom): Refusal =>
  refuse('cli/no-passphrase', {
    found: `no passphrase of ${name}, and no terminal to ask for it`,
    needed: 'the passphrase, typed, in a file, or in the environment',
    remedy: `run the command in a terminal, name a file whose first line it is, or set ${variable}`
  })

const differ = (name: string): Refusal =>
  refuse('cli/passphrases-differ', {
    found: 'two passphrases that are not the same',
    needed: 'the same passphrase twice: what is typed for no eyes is easily mistyped',
    remedy: `let ${name} try again`
  })
