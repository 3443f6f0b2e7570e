import { isRefusal } from '@trueloop/ground/refusal'
import { afterEach, describe, expect, it, vi } from 'vitest'
import { chosenPassphrase, newPassphrase } from './work/passphrase.ts'

/** Oracle: what is typed twice for no eyes counts only where it is the same. The terminal is played. */

const typed: string[] = []

vi.mock('./terminal/hidden.ts', async (original) => ({
  ...(await original<typeof import('./terminal/hidden.ts')>()),
  canType: () => true,
  askHidden: async () => typed.shift() ?? ''
}))

afterEach(() => {
  typed.length = 0
})

const asked = async (...lines: readonly string[]) => {
  typed.push(...lines)
  const chosen = await chosenPassphrase('A. Sample', newPassphrase())
  return isRefusal(chosen) ? chosen.code : chosen
}

describe('a passphrase that a person chooses', () => {
  it('is taken where it is typed twice', async () =>
    expect(await asked('long enough words', 'long enough words')).toBe('long enough words'))
  it('is refused where it is typed otherwise the second time', async () =>
    expect(await asked('long enough words', 'long enough word')).toBe('cli/passphrases-differ'))
  it('is refused before the second time where it is short', async () => {
    expect(await asked('short', 'never asked for')).toBe('keys/short-passphrase')
    expect(typed).toEqual(['never asked for'])
  })
})
