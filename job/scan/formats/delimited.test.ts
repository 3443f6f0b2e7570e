/** Ways in which one small table can be written; its numbers are known by construction. */
import { isRefusal } from '@trueloop/ground/refusal'
import { describe, expect, it } from 'vitest'
import { type Overrides, survey } from '../index.ts'
import { concat } from '../testing/make.ts'
import { cuttingFault, opened, readWhole, utf8 } from '../testing/read.ts'
import { clockOf, complexOf, kindOf, numberOf } from './delimited/cells.ts'

const X = [0.25, -1250.5, 3.125, 0, -0.5]
const Y = [1, 2.5, -1750.25, 0.125, 4]
const rows = (write: (x: number, y: number, k: number) => string): string =>
  X.map((x, k) => write(x, Y[k] as number, k)).join('')
const comma = (value: number): string => String(value).replace('.', ',')
const wide = (text: string, little: boolean): Uint8Array => {
  const bytes = utf8(text)
  return Uint8Array.from({ length: 2 * bytes.length }, (_, at) =>
    at % 2 === (little ? 0 : 1) ? (bytes[at >> 1] ?? 0) : 0
  )
}
const plain = `x,y\n${rows((x, y) => `${x},${y}\n`)}`

const WAYS: readonly [string, Uint8Array, Overrides?][] = [
  ['plain', utf8(plain)],
  ['UTF-16 big-endian without a mark', wide(plain, false)],
  ['UTF-16 little-endian with a mark', concat([Uint8Array.of(0xff, 0xfe), wide(plain, true)])],
  ['bars', utf8(`x|y\n${rows((x, y) => `${x}|${y}\n`)}`)],
  ['runs of blanks', utf8(`  x      y\n${rows((x, y) => `   ${x}   ${y}  \n`)}`)],
  ['tabs and decimal commas', utf8(`x\ty\n${rows((x, y) => `${comma(x)}\t${comma(y)}\n`)}`)],
  ['quoted decimal commas between commas', utf8(`"x","y"\n${rows((x, y) => `"${comma(x)}","${comma(y)}"\n`)}`)],
  [
    'decimal commas and thousands points',
    utf8(`x;y\n${rows((x, y) => `${x.toLocaleString('de-DE')};${y.toLocaleString('de-DE')}\n`)}`)
  ],
  ['exponents', utf8(`x,y\n${rows((x, y) => `${x.toExponential()},${y.toExponential().toUpperCase()}\n`)}`)],
  ['the typographic minus', utf8(`x,y\n${rows((x, y) => `${x},${y}\n`.replaceAll('-', '\u2212'))}`)],
  ['blanks after commas, empty lines', utf8(`x, y\n\n${rows((x, y) => `${x}, ${y}\n\n`)}`)],
  ['a closing separator', utf8(`x,y,\n${rows((x, y) => `${x},${y},\n`)}`)],
  ['quoted names with a line break', utf8(`"x","y\nsecond line"\n${rows((x, y) => `${x},${y}\n`)}`), { y: 1, x: 0 }],
  ['names in a comment', utf8(`# made by us\n# x,y\n${rows((x, y) => `${x},${y}\n`)}`)],
  ['a text column', utf8(`note,x,y\n${rows((x, y, k) => `"a, ""b"" ${k}",${x},${y}\n`)}`)],
  ['complex cells', utf8(`Z\n${rows((x, y) => `(${x}${y < 0 ? '' : '+'}${y}j)\n`)}`)],
  ['complex cells of array writers', utf8(`Z\n${rows((x, y) => ` (${x.toExponential(4)}+${y.toExponential(5)}i)\n`)}`)],
  ['a preamble of pairs', utf8(`Operator;A. B.\nGain;20\n\nx;y\n${rows((x, y) => `${x};${y}\n`)}`)]
]

describe.each(WAYS)('written with %s', (_, bytes, overrides = {}) => {
  it('reads the same numbers, however it is cut', () => {
    const all = { rate_Hz: 100, ...overrides }
    const whole = readWhole(bytes, 'a file', all)
    expect(Array.from(whole.x)).toEqual(X)
    expect(Array.from(whole.y)).toEqual(Y)
    expect(whole.scan.losses).toEqual([])
    expect(cuttingFault(() => opened(bytes, 'a file', all), bytes, [1])).toBeUndefined()
  })
})

describe('what stands above the rows', () => {
  it('is kept as notes', () => {
    const bytes = utf8(`Operator;A. B.\nGain;20\n\nx;y\n1;2\n3;5\n`)
    const seen = survey(bytes, 'a', bytes.length)
    if (isRefusal(seen)) throw new Error(seen.code)
    expect(seen.notes).toEqual(['Operator;A. B.', 'Gain;20'])
    expect(seen.details).toEqual({ encoding: 'utf-8', separator: 'semicolon', decimal: '.' })
  })
})

describe('cells', () => {
  const style = { separator: ';', decimal: '.' } as const

  it.each([
    ['1,234.5', 1234.5],
    ['-12,345,678.25', -12345678.25],
    ['1,23.5', undefined],
    ['0,123.5', undefined],
    ['1.5-03', undefined],
    ['0.1+100', undefined],
    ['1,234', undefined],
    ['1.2.3', undefined],
    ['0x1F', undefined],
    ['', undefined]
  ])('"%s" is %s', (cell, value) => {
    expect(numberOf(cell, style)).toBe(value)
  })

  it('clock times', () => {
    // days between 1970-01-01 and 2016-05-23, and 2000-02-29: Python (date(2016,5,23)-date(1970,1,1)).days
    expect(clockOf('2016-05-23 21:46:00.5')).toEqual({ day: 16944, seconds: 78360.5 })
    expect(clockOf('2000-02-29T00:00:01Z')).toEqual({ day: 11016, seconds: 1 })
    expect(clockOf('46:00,25')).toEqual({ day: 0, seconds: 2760.25, period_s: 3600 })
    expect(clockOf('1:02:03')).toEqual({ day: 0, seconds: 3723, period_s: 86400 })
    expect(clockOf('12')).toBeUndefined()
  })

  it('complex numbers', () => {
    expect(complexOf('(-0.5-2.5e-3j)', style)).toEqual([-0.5, -0.0025])
    expect(complexOf('1+-2i', style)).toEqual([1, -2])
    expect(complexOf('1+2', style)).toBeUndefined()
  })

  it('kinds', () => {
    expect(['1e5', 'nan', '', 'ab', '1+2j', '12:30.5'].map((cell) => kindOf(cell, style))).toEqual([
      'number',
      'nan',
      'blank',
      'text',
      'complex',
      'clock'
    ])
  })
})
