import { describe, expect, it } from 'vitest'
import { sha256, sha256Of, startSha256 } from './index.ts'

// Published values for "abc", the empty text and the two-block text. source: fips180-4
const printed = [
  ['', 'e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855'],
  ['abc', 'ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad'],
  [
    'abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq',
    '248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1'
  ]
] as const

describe('sha256', () => {
  it.each(printed)('of %j', (text, expected) => expect(sha256(text)).toBe(expected))
  it('of a text is that of its UTF-8 bytes', async () => {
    const text = 'Ø 6.35 µm'
    expect(sha256(text)).toBe(await sha256Of(pieces(new TextEncoder().encode(text), 100)))
  })
  it.each([1, 2, 7, 100])('does not depend on the cutting into pieces of %d', async (size) => {
    const [, [text, expected]] = printed
    expect(await sha256Of(pieces(new TextEncoder().encode(text), size))).toBe(expected)
    const growing = startSha256()
    for await (const piece of pieces(new TextEncoder().encode(text), size)) growing.update(piece)
    expect(growing.digest()).toBe(expected)
  })
})

async function* pieces(bytes: Uint8Array, size: number): AsyncGenerator<Uint8Array> {
  for (let at = 0; at < bytes.length; at += size) yield bytes.subarray(at, at + size)
}
