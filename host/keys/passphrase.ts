import type { Refusal } from '@trueloop/ground/refusal'
import { type Code, refuse } from './codes.ts'

/** Fewest characters of a passphrase. Our own number: four short words. */
export const fewestCharacters = 12

/** Fewest different ones: a key held down is no passphrase. */
const fewestDifferent = 5

/** One passphrase is one text, however a keyboard composes its letters. source: rfc8265, 4.2 (normalization) */
export const sameText = (passphrase: string): string => passphrase.normalize('NFC')

/** Refuses `keys/short-passphrase`. The refusal never repeats what was typed. */
export function checkPassphrase(passphrase: string): Refusal<Code> | undefined {
  const characters = [...sameText(passphrase)]
  const different = new Set(characters).size
  if (characters.length >= fewestCharacters && different >= fewestDifferent) return undefined
  return refuse('keys/short-passphrase', {
    found: `a passphrase of ${characters.length} characters, ${different} of them different`,
    needed: `at least ${fewestCharacters} characters, at least ${fewestDifferent} of them different`,
    remedy: 'take four or five words that nobody would put together'
  })
}
