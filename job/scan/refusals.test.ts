/** Every code of this room is provoked once, through the public door. */
import { isRefusal } from '@trueloop/ground/refusal'
import { describe, expect, it } from 'vitest'
import { codes, type Overrides, openScan, survey } from './index.ts'
import { ascii, chunk, circle, concat, float32, int16, table, wav } from './testing/make.ts'
import { codeOf, cuttingFault, opened, readIn, utf8 } from './testing/read.ts'

interface Case {
  readonly code: string
  readonly what: string
  readonly bytes: Uint8Array
  readonly overrides?: Overrides
}

const time = (k: number): string => (k / 1000).toFixed(4)
const good = (k: number): string => `${time(k)},${circle(k)}`
const csv = (header: string, rows: number, row: (k: number) => string): Uint8Array => utf8(table(header, rows, row))
const swing = (k: number): number => Math.round(1000 * Math.sin(k))
const samples = int16(Array.from({ length: 200 }, (_, k) => swing(k)))
const XY = { x: 0, y: 1 }

const CASES: readonly Case[] = [
  { code: 'scan/empty-file', what: 'no bytes', bytes: new Uint8Array(0) },
  { code: 'scan/empty-file', what: 'blank lines only', bytes: utf8('\r\n  \r\n') },
  { code: 'scan/empty-file', what: 'NUL only', bytes: new Uint8Array(5000) },
  { code: 'scan/unknown-format', what: 'a picture', bytes: concat([ascii('\x89PNG\r\n\x1a\n'), new Uint8Array(300)]) },
  { code: 'scan/unknown-format', what: 'noise', bytes: Uint8Array.from({ length: 999 }, (_, k) => (k * 73) % 256) },
  { code: 'scan/unknown-format', what: 'a RIFF file of another kind', bytes: wav(samples, { kind: 'AVI ' }) },
  { code: 'scan/only-text', what: 'prose', bytes: utf8('Dear colleague,\nplease find the scans below.\nYours\n') },
  { code: 'scan/only-text', what: 'a header without rows', bytes: utf8('time_s,x,y\n') },
  { code: 'scan/unreadable-numbers', what: 'no letter', bytes: csv('t,x,y', 9, () => '1.5-03,2.5-03,3.5+02') },
  {
    code: 'scan/uncertain-numbers',
    what: '1,234',
    bytes: csv('x;y', 99, (k) => `1,${100 + ((k * 37) % 50)};2,${300 - ((k * 11) % 50)}`)
  },
  {
    code: 'scan/unsupported-encoding',
    what: 'UTF-32',
    bytes: concat([ascii('\xff\xfe\0\0'), ...Array.from('x,y\n1,2\n', (char) => ascii(`${char}\0\0\0`))])
  },
  { code: 'scan/unsupported-encoding', what: 'A-law', bytes: wav(samples, { tag: 6, bits: 8 }) },
  { code: 'scan/unsupported-encoding', what: '16-bit float', bytes: wav(samples, { tag: 3 }) },
  { code: 'scan/unsupported-encoding', what: '72 bits', bytes: wav(samples, { bits: 72 }) },
  { code: 'scan/truncated-header', what: 'a cut RIFF head', bytes: ascii('RIFF????WA') },
  { code: 'scan/truncated-header', what: 'no data chunk', bytes: wav(samples).slice(0, 36) },
  {
    code: 'scan/truncated-header',
    what: 'a header line of more than 1 MiB',
    bytes: utf8(`${'name,'.repeat(300_000)}\n1,2\n`)
  },
  { code: 'scan/inconsistent-header', what: 'odd frames', bytes: wav(samples, { align: 3 }) },
  { code: 'scan/inconsistent-header', what: 'no channels', bytes: wav(samples, { channels: 0, align: 4 }) },
  {
    code: 'scan/inconsistent-header',
    what: 'data before the format',
    bytes: wav(samples, { before: chunk('data', samples) })
  },
  { code: 'scan/one-channel', what: 'a mono file', bytes: wav(samples, { channels: 1 }) },
  { code: 'scan/one-channel', what: 'one column', bytes: csv('x', 99, (k) => String(swing(k))) },
  { code: 'scan/one-channel', what: 'time and x', bytes: csv('time_s,x', 99, (k) => `${time(k)},${swing(k)}`) },
  { code: 'scan/uncertain-columns', what: 'no names', bytes: csv('', 99, good) },
  { code: 'scan/uncertain-columns', what: 'time without a unit', bytes: csv('t,x,y', 99, good) },
  { code: 'scan/no-such-column', what: 'number 9', bytes: csv('time_s,x,y', 99, good), overrides: { index: 9 } },
  { code: 'scan/no-such-column', what: 'name', bytes: csv('time_s,x,y', 99, good), overrides: { x: 'X1' } },
  { code: 'scan/column-twice', what: 'x is y', bytes: csv('time_s,x,y', 99, good), overrides: { x: 'x', y: 1 } },
  {
    code: 'scan/no-unit',
    what: 'a position without a unit',
    bytes: csv('time_s,x,y,z', 99, (k) => `${good(k)},${k}`),
    overrides: { position: 'z', x: 'x', y: 'y' }
  },
  { code: 'scan/no-rate', what: 'x and y only', bytes: csv('x,y', 99, circle) },
  {
    code: 'scan/no-rate',
    what: 'a time that stands still',
    bytes: csv('t,x,y', 99, (k) => `1,${circle(k)}`),
    overrides: { time: 't' }
  },
  { code: 'scan/no-samples', what: 'an empty data chunk', bytes: wav(new Uint8Array(0)), overrides: XY },
  {
    code: 'scan/no-samples',
    what: 'an empty data chunk and a known chunk',
    bytes: wav(new Uint8Array(0), { behind: chunk('LIST', ascii('INFO')) }),
    overrides: XY
  },
  {
    code: 'scan/too-many-bad-rows',
    what: '2 of 1000',
    bytes: csv('time_s,x,y', 1000, (k) => (k === 300 || k === 700 ? 'x,x,x' : good(k)))
  },
  {
    code: 'scan/too-many-bad-rows',
    what: 'NaN in a sound file',
    bytes: wav(float32(Array.from({ length: 200 }, (_, k) => (k === 9 ? Number.NaN : k))), { tag: 3, bits: 32 }),
    overrides: XY
  },
  { code: 'scan/all-zero', what: 'zeros', bytes: wav(int16(new Array(200).fill(0))), overrides: XY },
  {
    code: 'scan/equal-channels',
    what: 'x twice',
    bytes: csv('time_s,x,y', 99, (k) => `${time(k)},${swing(k)},${swing(k)}`)
  }
]

describe('bad input is refused', () => {
  it.each(CASES)('$code: $what', ({ code, bytes, overrides }) => {
    expect(codeOf(bytes, 'a file', overrides)).toBe(code)
    const open = (): ReturnType<typeof opened> => opened(bytes, 'a file', overrides)
    expect(cuttingFault(open, bytes, bytes.length > 100_000 ? [65_536] : [1])).toBeUndefined()
  })

  it('each code is provoked', () => {
    expect([...new Set(CASES.map((one) => one.code))].sort()).toEqual([...codes].sort())
  })

  it('with found, needed, what to do, and the file', () => {
    for (const { bytes, overrides } of CASES) {
      const got = readIn(() => opened(bytes, 'a file', overrides), bytes, [bytes.length])
      if (!isRefusal(got)) throw new Error('read')
      expect(Math.min(got.found.length, got.needed.length, got.remedy.length)).toBeGreaterThan(3)
    }
  })
})

describe('a hopeless file', () => {
  const bytes = csv('time_s,x,y', 20_000, (k) => (k > 100 && k % 10 === 9 ? 'overload' : good(k)))

  it('is refused before its end where the size is known, with the first bad line', () => {
    const reader = opened(bytes, 'bad.csv')
    if (isRefusal(reader)) throw new Error(reader.code)
    const got = reader.push(bytes.subarray(0, bytes.length / 4))
    expect(got).toMatchObject({ code: 'scan/too-many-bad-rows', where: { file: 'bad.csv', line: 111 } })
    expect(reader.push(bytes.subarray(bytes.length / 4))).toEqual(got)
    expect(reader.end()).toEqual(got)
  })

  it('is refused at its end where it is not', () => {
    const seen = survey(bytes, 'bad.csv')
    if (isRefusal(seen)) throw new Error(seen.code)
    const reader = openScan(bytes, 'bad.csv', { x: 1, y: 2, time: 0 })
    if (isRefusal(reader)) throw new Error(reader.code)
    expect(isRefusal(reader.push(bytes))).toBe(false)
    expect(reader.end()).toMatchObject({ code: 'scan/too-many-bad-rows' })
  })
})

describe('a mapping that does not fit', () => {
  it('is refused by the reader too', () => {
    const bytes = csv('time_s,x,y', 99, good)
    expect(openScan(bytes, 'a', { x: 1, y: 7, rate_Hz: 1 }, bytes.length)).toMatchObject({
      code: 'scan/no-such-column'
    })
  })
})
