import { isRefusal, type Result } from '@trueloop/ground/refusal'
import type { Archive } from '@trueloop/host/archive'
import type { Signer } from '@trueloop/host/keys'
import { dueText, type SigningPerson, signerFor } from '@trueloop/host/signing'
import { dataFolder } from '../home.ts'
import { withArchive } from './archive.ts'
import { ownPassphrase, passphraseOf } from './passphrase.ts'

export interface Signing {
  readonly home?: string | undefined
  /** a file whose first line is the passphrase */
  readonly passphraseFile?: string | undefined
}

/** Tells on standard error what of a person falls due. */
export function tellDue(name: string, { due }: SigningPerson): void {
  for (const one of due) process.stderr.write(`${dueText(name, one)}\n`)
}

/**
 * Does signed work: asks for the passphrase before the archive is opened, so that nobody waits for a person who types.
 * What of theirs falls due is told on standard error.
 */
export async function withSigner<T>(
  name: string,
  { home = dataFolder(), passphraseFile }: Signing,
  work: (archive: Archive, signer: Signer) => Promise<Result<T>>
): Promise<Result<T>> {
  const passphrase = await passphraseOf(name, ownPassphrase(passphraseFile))
  if (isRefusal(passphrase)) return passphrase
  return withArchive(async (archive) => {
    const person = await signerFor(name, archive, { home, passphrase })
    if (isRefusal(person)) return person
    tellDue(name, person)
    return work(archive, person.signer)
  }, home)
}
