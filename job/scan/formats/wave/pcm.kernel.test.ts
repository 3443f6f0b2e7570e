/** The fast decoder against a plain one in whole numbers (BigInt), which the language rounds once to binary64. */
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { decodeChannel } from './pcm.kernel.ts'

/** One sample the plain way: assemble the bytes, take the sign, divide by full scale. */
function plain(bytes: readonly number[], little: boolean): number {
  if (bytes.length === 1) return ((bytes[0] as number) - 128) / 128
  const ordered = little ? [...bytes].reverse() : bytes
  const whole = ordered.reduce((sum, byte) => sum * 256n + BigInt(byte), 0n)
  return Number(BigInt.asIntN(8 * bytes.length, whole)) / 2 ** (8 * bytes.length - 1)
}

describe.each([1, 2, 3, 4, 5, 6, 7, 8])('samples of %d bytes', (container) => {
  it('equal the plain way in both byte orders, for each channel, from any offset', () => {
    const frames = 5
    const cases = fc.record({
      little: fc.boolean(),
      channels: fc.integer({ min: 1, max: 4 }),
      from: fc.integer({ min: 0, max: 9 }),
      bytes: fc.uint8Array({ minLength: 9 + frames * 4 * 8, maxLength: 9 + frames * 4 * 8 })
    })
    const right = ({
      little,
      channels,
      from,
      bytes
    }: {
      little: boolean
      channels: number
      from: number
      bytes: Uint8Array
    }) =>
      Array.from({ length: channels }, (_, channel) => channel).every((channel) => {
        const got = decodeChannel({ bytes, from, frames }, { channels, container, float: false, little }, channel)
        return got.every((value, frame) => {
          const at = from + (frame * channels + channel) * container
          return Object.is(value, plain(Array.from(bytes.subarray(at, at + container)), little))
        })
      })
    fc.assert(fc.property(cases, right), { numRuns: 200 })
  })

  it('reach −1 and stay below 1', () => {
    const ends = (bytes: number[]): number =>
      decodeChannel(
        { bytes: Uint8Array.from(bytes), from: 0, frames: 1 },
        { channels: 1, container, float: false, little: false },
        0
      )[0] as number
    const rest = new Array(container - 1).fill(0)
    expect(ends([container === 1 ? 0 : 0x80, ...rest])).toBe(-1)
    expect(ends([container === 1 ? 128 : 0, ...rest])).toBe(0)
  })
})
