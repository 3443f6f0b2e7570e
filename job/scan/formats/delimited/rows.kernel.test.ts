/** Numbers are read exactly as the language's own `Number` reads them (correctly rounded, IEEE 754 binary64). */
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type RowSink, readRows, SKIP } from './rows.kernel.ts'
import { rowOf } from './rows.ts'
import type { Sheet } from './sheet.ts'

const CAPACITY = 8
const sink = (slots: number): RowSink => ({
  capacity: CAPACITY,
  values: new Float64Array(CAPACITY * slots).fill(Number.NaN),
  rows: 0,
  lines: 0,
  afterCr: false
})

interface Dialect {
  readonly separator: string
  readonly decimal: '.' | ','
}

/** Values of a one-line text by the kernel; undefined where the kernel leaves the row to the slow way. */
function byKernel(line: string, slots: readonly number[], { separator, decimal }: Dialect): number[] | undefined {
  const bytes = new TextEncoder().encode(`${line}\n`)
  const used = slots.filter((slot) => slot >= 0).length
  const into = sink(used)
  const plan = {
    separator: separator.charCodeAt(0),
    decimal: decimal.charCodeAt(0),
    slots: Int32Array.from(slots),
    longest: 1000
  }
  const stop = readRows({ bytes, from: 0, to: bytes.length }, plan, into)
  if (stop < bytes.length || into.rows !== 1) return undefined
  return Array.from({ length: used }, (_, slot) => into.values[slot * CAPACITY] as number)
}

const COMMA: Dialect = { separator: ',', decimal: '.' }
const one = (text: string, dialect = COMMA): number | undefined => byKernel(text, [0], dialect)?.[0]
const readsLikeNumber = (text: string): boolean => Object.is(one(text), Number(text))

const digits = (length: number): fc.Arbitrary<string> =>
  fc.array(fc.integer({ min: 0, max: 9 }), { minLength: 1, maxLength: length }).map((list) => list.join(''))

const texts = fc
  .tuple(
    fc.constantFrom('', '-', '+'),
    digits(22),
    fc.option(digits(24)),
    fc.option(fc.tuple(fc.constantFrom('e', 'E'), fc.integer({ min: -330, max: 310 })))
  )
  .map(
    ([sign, whole, fraction, exponent]) =>
      `${sign}${whole}${fraction === null ? '' : `.${fraction}`}${exponent === null ? '' : exponent.join('')}`
  )

describe('numbers from bytes', () => {
  it('equal Number for any plain text', () => {
    fc.assert(fc.property(texts, readsLikeNumber), { numRuns: 4000 })
  })

  it('equal Number for every way to print a double', () => {
    const doubles = fc.double({ noNaN: true, noDefaultInfinity: true })
    const printed = (value: number): string[] => [
      String(value),
      value.toPrecision(17),
      value.toExponential(20),
      value.toFixed(9)
    ]
    fc.assert(
      fc.property(doubles, (value) => printed(value).every(readsLikeNumber)),
      { numRuns: 2000 }
    )
  })

  it('equal Number halfway between neighbors, and beside it', () => {
    const halves = fc.tuple(fc.bigInt({ min: 2n ** 52n, max: 2n ** 53n - 1n }), fc.integer({ min: 1, max: 40 }))
    const around = ([mantissa, shift]: [bigint, number]): string[] => {
      const half = (2n * mantissa + 1n) * 2n ** BigInt(shift - 1)
      return [`${half}`, `${half}.0000000000000000000001`, `${half - 1n}.9999999999999999999999`, `-${half}e-5`]
    }
    fc.assert(
      fc.property(halves, (half) => around(half).every(readsLikeNumber)),
      { numRuns: 1000 }
    )
  })

  it.each([
    '9007199254740992',
    '9007199254740993',
    '900719925474099.3',
    '0.9007199254740993',
    '5e-324',
    '2.4703282292062327e-324',
    '2.4703282292062328e-324',
    '2.2250738585072011e-308',
    '1.7976931348623157e308',
    '1.7976931348623159e308',
    '1e23',
    '8.5e22',
    '1e-23',
    '0.000000000000000000000000000001',
    '-0',
    '-0.0e-400',
    '0e99999999999',
    '.5',
    '5.',
    '+7',
    '007.50'
  ])('%s', (text) => {
    expect(one(text)).toBe(Number(text))
  })

  it.each([
    '',
    '.',
    '-',
    '1e',
    '1e+',
    '0.1+100',
    '1.5-03',
    '0x10',
    'nan',
    'Infinity',
    '1_000',
    '1.2.3',
    '--1',
    '1 2',
    '"1"'
  ])('leaves "%s" alone', (text) => {
    expect(one(text)).toBeUndefined()
  })

  it('reads a decimal comma', () => {
    expect(one('-0,003906000000000631', { separator: ';', decimal: ',' })).toBe(-0.003906000000000631)
    expect(one('1,2345678901234567890123e-3', { separator: ';', decimal: ',' })).toBe(
      Number('1.2345678901234567890123e-3')
    )
  })
})

describe('rows from bytes against the plain way', () => {
  const sheetFor = ({ separator, decimal }: Dialect): Sheet => ({
    encoding: 'utf-8',
    style: { separator: separator as ',', decimal },
    cells: 3,
    columns: [],
    dataStart: 0,
    linesAbove: 0,
    headers: [],
    notes: [],
    doubts: [],
    baseDay: 0,
    tail: undefined,
    sample: []
  })
  const columns = [0, 1, 2].map((cell) => ({ cell, kind: 'number' as const, names: [] }))
  const dialects = fc.constantFrom<Dialect>(
    COMMA,
    { separator: ';', decimal: ',' },
    { separator: '\t', decimal: '.' },
    {
      separator: ' ',
      decimal: '.'
    }
  )
  const likely = fc.constantFrom('0', '12', '7.5', '-3', '1e2', '25')
  const junk = fc.constantFrom('.', ',', '+', 'e', 'E-3', ' ', '\t', ';', '"', 'x', '#', '1,5', '')
  const pieces = fc.oneof({ weight: 6, arbitrary: likely }, { weight: 1, arbitrary: junk })

  it('never differ where the fast way reads a row', () => {
    const cell = fc.array(pieces, { minLength: 1, maxLength: 2 }).map((list) => list.join(''))
    const lines = fc.array(cell, { minLength: 2, maxLength: 4 })
    let read = 0
    const agree = (dialect: Dialect, cells: readonly string[]): boolean => {
      const line = cells.join(dialect.separator)
      const fast = byKernel(line, [0, 1, 2], dialect)
      if (fast === undefined) return true
      read++
      const slow = rowOf(line, sheetFor(dialect), columns)
      return (
        slow.kind === 'row' && slow.reason === undefined && fast.every((value, at) => Object.is(value, slow.values[at]))
      )
    }
    fc.assert(fc.property(dialects, lines, agree), { numRuns: 20_000 })
    expect(read).toBeGreaterThan(1000)
  })

  it('read every plain row the fast way', () => {
    const number = fc.double({ noNaN: true, noDefaultInfinity: true }).map(String)
    const row = fc.tuple(fc.constantFrom(',', ';', '\t', ' ', '|'), fc.array(number, { minLength: 3, maxLength: 3 }))
    const right = ([separator, cells]: [string, string[]]): boolean => {
      const fast = byKernel(cells.join(separator === ' ' ? '   ' : ` ${separator} `), [0, SKIP, 1], {
        separator,
        decimal: '.'
      })
      return fast !== undefined && Object.is(fast[0], Number(cells[0])) && Object.is(fast[1], Number(cells[2]))
    }
    fc.assert(fc.property(row, right), { numRuns: 1000 })
  })

  it('count lines whatever ends them', () => {
    for (const end of ['\n', '\r', '\r\n']) {
      const bytes = new TextEncoder().encode(['1,2', '', '3,4', '5,6'].map((line) => line + end).join(''))
      const into = sink(2)
      readRows(
        { bytes, from: 0, to: bytes.length },
        { separator: 44, decimal: 46, slots: Int32Array.of(0, 1), longest: 99 },
        into
      )
      expect([into.rows, into.lines]).toEqual([3, 4])
    }
  })
})
