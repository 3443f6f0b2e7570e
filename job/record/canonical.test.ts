import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { canonical } from './canonical.ts'
import reference from './reference/canonical.json' with { type: 'json' }

const double = (bits: string): number => new DataView(Uint8Array.from(Buffer.from(bits, 'hex')).buffer).getFloat64(0)

// source: rfc8785, 3.2.2, 3.2.3, appendix B
describe('canonical JSON, as printed in the RFC', () => {
  it.each(reference.numbers)('writes $bits as $expected', ({ bits, expected }) =>
    expect(canonical(double(bits))).toBe(expected)
  )
  it.each(reference.refused)('throws for %s', (bits) => expect(() => canonical(double(bits))).toThrow(RangeError))
  it.each(reference.texts)('writes the example of $place', ({ json, expected }) =>
    expect(canonical(JSON.parse(json))).toBe(expected)
  )
})

describe('canonical JSON', () => {
  it('leaves out undefined members and keeps null', () =>
    expect(canonical({ b: undefined, a: null })).toBe('{"a":null}'))

  it.each([
    ['a hole in a list', [undefined]],
    ['a function', { a: () => 1 }],
    ['a big integer', 1n],
    ['a typed array', new Float64Array(2)],
    ['a map', new Map()],
    ['a date', new Date(0)]
  ])('throws for %s', (_, value) => expect(() => canonical(value)).toThrow(TypeError))
  it('throws for half of a surrogate pair', () => {
    expect(() => canonical('\ud83d')).toThrow(RangeError)
    expect(() => canonical({ '\ude00': 1 })).toThrow(RangeError)
  })

  it('gives one text whatever the order of members, and loses nothing', () => {
    fc.assert(
      fc.property(fc.jsonValue(), (value) => {
        const text = canonical(value)
        const back: unknown = JSON.parse(text)
        expect(canonical(reversed(back))).toBe(text)
        expect(back).toEqual(JSON.parse(JSON.stringify(value)))
      }),
      { seed: 8785, numRuns: 300 }
    )
  })
})

function reversed(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(reversed)
  if (typeof value !== 'object' || value === null) return value
  const pairs = Object.entries(value).map(([key, member]) => [key, reversed(member)] as const)
  return Object.fromEntries(pairs.reverse())
}
