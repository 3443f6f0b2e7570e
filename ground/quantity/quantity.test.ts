import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { isRefusal } from '../refusal/index.ts'
import {
  cyclesPerRevolution,
  fromTrade,
  hertz,
  meters,
  notchUnits,
  parseQuantity,
  printQuantity,
  type Quantity,
  radians,
  type SiUnit,
  seconds,
  siemensPerMeter,
  toTrade,
  tradeUnits,
  unitWritten
} from './index.ts'

const code = (text: string, unit: SiUnit): string => {
  const found = parseQuantity(text, unit)
  return isRefusal(found) ? found.code : `read as ${found}`
}

describe('parseQuantity', () => {
  // Expected SI values are exact decimals by the definitions of the units (SI brochure; NIST SP 811; 100 %IACS = 58 MS/m).
  it.each<[string, SiUnit, number]>([
    ['6.35 mm', 'm', 0.00635],
    ['1/4 in', 'm', 0.00635],
    ['0.25 in', 'm', 0.00635],
    ['.25in', 'm', 0.00635],
    ['1-1/4 in', 'm', 0.03175],
    ['1 1/4"', 'm', 0.03175],
    ['5 mils', 'm', 0.000127],
    ['3.96 mm', 'm', 0.00396],
    ['-0.5 mm', 'm', -0.0005],
    ['\u22120.5 mm', 'm', -0.0005],
    ['12 um', 'm', 0.000012],
    ['12 \u03bcm', 'm', 0.000012],
    ['12 \u00b5m', 'm', 0.000012],
    ['500 kHz', 'Hz', 500_000],
    ['2MHz', 'Hz', 2_000_000],
    ['1e6 Hz', 'Hz', 1_000_000],
    ['1500 rpm', 'rev/s', 25],
    ['3000 RPM', 'rev/s', 50],
    ['32 %IACS', 'S/m', 18_560_000],
    ['32 % IACS', 'S/m', 18_560_000],
    ['18.56 MS/m', 'S/m', 18_560_000],
    ['12 dB', 'dB', 12],
    ['-6 dB', 'dB', -6],
    ['180 deg', 'rad', Math.PI],
    ['90\u00b0', 'rad', Math.PI / 2],
    ['13 mm/s', 'm/s', 0.013],
    ['1/2 in/s', 'm/s', 0.0127],
    ['6.6 cycles/rev', '1/rev', 6.6],
    ['6.6 cycles per revolution', '1/rev', 6.6],
    ['0.8 notch', 'notch', 0.8],
    ['250 mV', 'V', 0.25],
    ['50 \u2126', 'ohm', 50],
    ['40 %', 'ratio', 0.4],
    ['2 ms', 's', 0.002]
  ])('reads %s', (text, unit, expected) => expect(parseQuantity(text, unit)).toBe(expected))

  it.each(['', 'mm', '6,35 mm', '1,500 rpm', '6.3.5 mm', 'six mm', '1/0 in', '1e999 mm', 'NaN mm', '5 6 mm'])(
    'refuses "%s" as no number',
    (text) => expect(code(text, 'm')).toBe('quantity/not-a-number')
  )

  it.each([
    '6.35',
    '6.35 mmm',
    '6.35 MM',
    '500 mhz',
    '1/4',
    '3 furlong',
    '5 constructor',
    '5 % of screen',
    '0x10 mm',
    '1/2/3 in',
    '32 IACS',
    '5 m m'
  ])('refuses "%s" for its unit', (text) => expect(code(text, 'm')).toBe('quantity/unknown-unit'))

  it('refuses a unit of another kind, also of the same physical dimension', () => {
    expect(code('6.35 mm', 'Hz')).toBe('quantity/wrong-dimension')
    expect(code('25 Hz', 'rev/s')).toBe('quantity/wrong-dimension')
    expect(code('80 %', 'S/m')).toBe('quantity/wrong-dimension')
    const refused = parseQuantity('95 deg', 'm')
    expect(isRefusal(refused) && refused.needed).toContain('mm, µm, in')
  })
})

describe('units of the trade', () => {
  const anyUnit = fc.constantFrom(...tradeUnits)
  const anyNumber = fc.double({ min: -1e6, max: 1e6, noNaN: true })

  it('come back through SI within two roundings, and through a text within half of its last place', () => {
    fc.assert(
      fc.property(anyUnit, anyNumber, fc.integer({ min: 0, max: 9 }), ({ name, si }, value, digits) => {
        const quantity = fromTrade(value, name) as Quantity<SiUnit>
        expect(Math.abs(toTrade(quantity, name) - value)).toBeLessThanOrEqual(4e-16 * Math.abs(value) + 1e-300)
        const read = parseQuantity(printQuantity(quantity, name, digits), si)
        const back = toTrade(read as Quantity<SiUnit>, name)
        expect(Math.abs(back - value)).toBeLessThanOrEqual(0.5 * 10 ** -digits + 1e-15 * Math.abs(value))
      })
    )
  })

  it('are each read in every spelling, and no spelling is used twice', () => {
    const spellings = tradeUnits.flatMap((row) => [row.name, ...row.also].map((text) => [text, row.name] as const))
    for (const [text, name] of spellings) expect(unitWritten(text)?.name, text).toBe(name)
    expect(unitWritten('')).toBeUndefined()
  })

  it('agree with each other where a definition ties them', () => {
    expect(fromTrade(1, 'ft')).toBe(fromTrade(12, 'in'))
    expect(fromTrade(1000, 'mil')).toBe(fromTrade(1, 'in'))
    expect(fromTrade(1, 'in')).toBe(fromTrade(25.4, 'mm'))
    expect(fromTrade(1, 'h')).toBe(fromTrade(60, 'min'))
    expect(fromTrade(100, '%IACS')).toBe(fromTrade(58, 'MS/m'))
  })
})

describe('printQuantity', () => {
  it('prints with the places asked for', () => {
    expect(printQuantity(meters(0.00635), 'mm', 2)).toBe('6.35 mm')
    expect(printQuantity(meters(0.00635), 'in', 3)).toBe('0.250 in')
    expect(printQuantity(hertz(500_000), 'kHz', 0)).toBe('500 kHz')
    expect(printQuantity(radians(-Math.PI / 2), 'deg', 1)).toBe('-90.0°')
    expect(printQuantity(siemensPerMeter(18_560_000), '%IACS', 0)).toBe('32 %IACS')
    expect(printQuantity(notchUnits(-0.0001), 'notch', 2)).toBe('0.00 notch')
    expect(printQuantity(cyclesPerRevolution(6.65), 'cycles/rev', 1)).toBe('6.7 cycles/rev')
  })
  it('throws for what must not reach a page', () => {
    expect(() => printQuantity(meters(Number.POSITIVE_INFINITY), 'mm', 2)).toThrow(RangeError)
    expect(() => printQuantity(meters(1), 'mm', -1)).toThrow(RangeError)
    expect(() => meters(Number.NaN)).toThrow(RangeError)
    expect(() => fromTrade(Number.NaN, 'mm')).toThrow(RangeError)
  })
})

describe('types', () => {
  it('keep units apart (checked by the compiler)', () => {
    const length: Quantity<'m'> = meters(1)
    // @ts-expect-error a plain number has no unit
    const bare: Quantity<'m'> = 1
    // @ts-expect-error seconds are no meters
    const swapped: Quantity<'m'> = seconds(1)
    // @ts-expect-error arithmetic loses the unit
    const sum: Quantity<'m'> = length + length
    // @ts-expect-error a length is not printed in kHz
    expect(printQuantity(length, 'kHz', 0)).toBe('0 kHz')
    // @ts-expect-error there is no such unit
    expect(() => fromTrade(1, 'furlong')).toThrow()
    const fromInches: Quantity<'m'> = fromTrade(1, 'in')
    // @ts-expect-error an inch is no time
    const time: Quantity<'s'> = fromTrade(1, 'in')
    expect([bare, swapped, sum, fromInches, time]).toHaveLength(5)
  })
})
