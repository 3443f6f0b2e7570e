/**
 * What every format owes: its samples are read as an independent reader reads them, no other format claims them, and
 * cutting the bytes anywhere changes nothing. Samples and expected values: `samples/make_samples.py` (Python's csv,
 * NumPy, SciPy, or the packing itself).
 */
import { readdirSync, readFileSync } from 'node:fs'
import { isRefusal } from '@trueloop/ground/refusal'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { Overrides, ScanReader } from '../index.ts'
import { cuttingFault, type Open, opened, readIn, readWhole } from '../testing/read.ts'
import { formats } from './index.ts'

interface Expected {
  readonly reader: string
  readonly overrides: Overrides
  readonly rate_Hz: number
  readonly x: readonly (number | null)[]
  readonly y: readonly (number | null)[]
  readonly index?: readonly number[]
  readonly time?: readonly number[]
  readonly time_ms?: readonly number[]
  readonly position_um?: readonly number[]
  readonly damaged?: readonly number[]
  readonly missing?: number
}

const folder = new URL('./samples/', import.meta.url)
const names = readdirSync(folder)
  .filter((name) => name.endsWith('.expected.json'))
  .map((name) => name.slice(0, -'.expected.json'.length))
const bytesOf = (name: string): Uint8Array => new Uint8Array(readFileSync(new URL(name, folder)))
const expectedOf = (name: string): Expected =>
  JSON.parse(readFileSync(new URL(`${name}.expected.json`, folder), 'utf8')) as Expected
const openerOf =
  (name: string): Open =>
  () =>
    opened(bytesOf(name), name, expectedOf(name).overrides)
const claims = (name: string): readonly string[] => {
  const bytes = bytesOf(name)
  return formats.filter((format) => format.recognise({ bytes, name, size: bytes.length })).map((format) => format.name)
}

describe('formats', () => {
  it.each(formats.map((format) => format.name))('%s has samples', (format) => {
    expect(names.filter((name) => claims(name)[0] === format).length).toBeGreaterThan(5)
  })
})

describe.each(names)('sample %s', (name) => {
  const expected = expectedOf(name)

  it('is claimed by one format', () => {
    expect(claims(name)).toHaveLength(1)
  })

  it(`reads as by ${expected.reader}`, () => {
    const whole = readWhole(bytesOf(name), name, expected.overrides)
    const numbers = (values: readonly (number | null)[]): number[] => values.map((value) => value ?? Number.NaN)
    expect(Array.from(whole.x)).toEqual(numbers(expected.x))
    expect(Array.from(whole.y)).toEqual(numbers(expected.y))
    for (const [role, values] of scaled(expected)) {
      expect(whole.aux[role]).toHaveLength(values.length)
      for (const [row, value] of values.entries()) expect(whole.aux[role]?.[row]).toBeCloseTo(value, 12)
    }
    expect(whole.rate_Hz).toBe(expected.rate_Hz)
    expect(whole.scan.rate_Hz).toBe(expected.rate_Hz)
    expect(whole.scan.missing).toBe(expected.missing ?? 0)
    expect(whole.scan.damaged).toBe(expected.damaged?.length ?? 0)
    expect(whole.scan.losses.filter((loss) => loss.kind === 'unreadable').map((loss) => loss.first)).toEqual(
      expected.damaged ?? []
    )
  })

  it('reads the same one byte at a time', () => {
    expect(cuttingFault(openerOf(name), bytesOf(name), [1])).toBeUndefined()
  })

  it('reads the same however it is cut', () => {
    const lengths = fc.array(fc.oneof(fc.integer({ min: 1, max: 9 }), fc.integer({ min: 1, max: 3000 })), {
      minLength: 1,
      maxLength: 40
    })
    const open = openerOf(name)
    const bytes = bytesOf(name)
    fc.assert(
      fc.property(lengths, (cuts) => cuttingFault(open, bytes, cuts) === undefined),
      { numRuns: 12 }
    )
  })

  it('reads to its cut, or refuses, wherever the file ends early', () => {
    const bytes = bytesOf(name)
    const whole = readWhole(bytes, name, expected.overrides)
    for (let share = 1; share < 12; share++) {
      const part = bytes.slice(0, Math.floor((bytes.length * share) / 12))
      const open = (): ReturnType<Open> => opened(part, name, expected.overrides)
      const read = readIn(open, part, [part.length])
      if (isRefusal(read)) continue
      const sound = read.x.findIndex((value) => Number.isNaN(value))
      const rows = sound < 0 ? read.x.length : sound
      expect(Array.from(read.x.subarray(0, rows))).toEqual(Array.from(whole.x.subarray(0, rows)))
      expect(Array.from(read.y.subarray(0, rows))).toEqual(Array.from(whole.y.subarray(0, rows)))
    }
  })
})

function scaled({ index, time, time_ms, position_um }: Expected): [string, readonly number[]][] {
  const found: [string, readonly number[] | undefined][] = [
    ['index', index],
    ['time', time],
    ['time', time_ms?.map((value) => value / 1e3)],
    ['position', position_um?.map((value) => value / 1e6)]
  ]
  return found.filter((entry): entry is [string, readonly number[]] => entry[1] !== undefined)
}

describe('the contract test itself', () => {
  /** A wrong reader: forgets what a chunk leaves unfinished. */
  const forgetful = (name: string, end: number): Open => {
    return () => {
      const reader = openerOf(name)()
      if (isRefusal(reader)) return reader
      const push = (bytes: Uint8Array): ReturnType<ScanReader['push']> =>
        reader.push(bytes.subarray(0, bytes.length < 900 ? bytes.lastIndexOf(end) + 1 : bytes.length))
      return { rate_Hz: reader.rate_Hz, push, end: () => reader.end() }
    }
  }

  /** Another: keeps the sum of what it has seen, so that a value depends on where the chunks end. */
  const summing = (name: string): Open => {
    return () => {
      const reader = openerOf(name)()
      if (isRefusal(reader)) return reader
      let pushes = 0
      const push = (bytes: Uint8Array): ReturnType<ScanReader['push']> => {
        const got = reader.push(bytes)
        pushes++
        if (!isRefusal(got)) for (const segment of got) segment.channels[0]!.x[0]! += pushes * 1e-16
        return got
      }
      return { rate_Hz: reader.rate_Hz, push, end: () => reader.end() }
    }
  }

  it('fails a reader that forgets', () => {
    expect(cuttingFault(forgetful('comma.csv', 10), bytesOf('comma.csv'), [100])).toBeDefined()
    expect(cuttingFault(forgetful('pcm16.wav', 0), bytesOf('pcm16.wav'), [97])).toBeDefined()
  })

  it('fails a reader whose last bit depends on the chunks', () => {
    expect(cuttingFault(summing('comma.csv'), bytesOf('comma.csv'), [100])).toBe('x')
  })
})
