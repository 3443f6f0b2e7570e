/** Oracle: printed pairs of %IACS, MS/m and µΩ·cm; worked examples by hand; the form every row must have. */
import { fromTrade, siemensPerMeter, toTrade } from '@trueloop/ground/quantity'
import { isRefusal } from '@trueloop/ground/refusal'
import { describe, expect, it } from 'vitest'
import {
  conductivityAt,
  conductivityAt20,
  type Material,
  materialNamed,
  materials,
  resistivity_uOhm_cm,
  withMeasured
} from './index.ts'

const code = (value: unknown): string => (isRefusal(value) ? value.code : 'answered')
const named = (name: string) => materialNamed(name) as Material
const inIACS = (value: unknown) => toTrade(value as ReturnType<typeof siemensPerMeter>, '%IACS')

describe('the table', () => {
  it('has one row a name', () => expect(new Set(materials.map(({ name }) => name)).size).toBe(materials.length))

  it.each(materials)('$name has a source, a value or limits, and no confirmed value from memory', (row) => {
    for (const stated of [row.conductivity_IACS, row.permeability]) {
      const { value, low, high, standing, source } = stated
      expect(source).not.toBe('')
      expect(source === 'from memory').toBe(standing === 'proposed')
      expect((low === undefined) === (high === undefined) && (value ?? low) !== undefined).toBe(true)
      expect((low ?? value!) <= (value ?? low!) && (value ?? low!) <= (high ?? value!)).toBe(true)
    }
    expect(row.permeability.value ?? row.permeability.low).toBeGreaterThanOrEqual(1)
  })

  it.each([
    // MS/m as printed beside %IACS, three digits. source: et-programmed-9, tables 5.1, 9.1 and 9.2; asm-handbook-2
    ['silver', 60.9, 0.05],
    ['copper, annealed', 58, 0.05],
    ['gold', 40.6, 0.05],
    ['1050-O', 35.6, 0.05],
    ['2024-T3', 17.4, 0.05],
    ['brass 70-30', 16.2, 0.05],
    ['carbon steel A106', 6.2, 0.2]
  ])('%s has %f MS/m', (name, expected, within) => {
    const stated = named(name).conductivity_IACS
    expect(Math.abs(toTrade(fromTrade(stated.value!, '%IACS'), 'MS/m') - expected)).toBeLessThanOrEqual(within)
  })

  it.each([
    // source: et-programmed-9 (A106: 16.2 µΩ·cm at 11 %, rounded); asm-handbook-2 (28.1 nΩ·m); iec-60028-1925
    ['1050-O', 2.81, 0.005],
    ['copper, annealed', 1.7241, 0.00005],
    ['carbon steel A106', 16.2, 0.8]
  ])('%s has %f µΩ·cm', (name, expected, within) => {
    const value = resistivity_uOhm_cm(fromTrade(named(name).conductivity_IACS.value!, '%IACS'))
    expect(Math.abs(Number(value) - expected)).toBeLessThanOrEqual(within)
  })
})

describe('temperature', () => {
  it('lowers 30 %IACS aluminum by 10 K to 29.49 %IACS', () => {
    // By hand: 172.414 / 30 = 5.7471 µΩ·cm, + 0.1 = 5.8471, 172.414 / 5.8471 = 29.487
    expect(inIACS(conductivityAt(fromTrade(30, '%IACS'), 'aluminum', 30))).toBeCloseTo(29.487, 3)
  })
  it('lowers annealed copper by 0.393 % a kelvin and comes back', () => {
    const warm = conductivityAt(fromTrade(100, '%IACS'), 'copper', 21)
    expect(inIACS(warm)).toBeCloseTo(100 / 1.00393, 4)
    expect(inIACS(conductivityAt20(warm as ReturnType<typeof siemensPerMeter>, 'copper', 21))).toBeCloseTo(100, 10)
  })
  it('refuses what it has no law for', () => {
    const al = fromTrade(30, '%IACS')
    expect(code(conductivityAt(al, 'aluminum', 61))).toBe('materials/outside-temperature')
    expect(code(conductivityAt(al, 'aluminum', Number.NaN))).toBe('materials/outside-temperature')
    expect(code(conductivityAt(al, 'steel', 25))).toBe('materials/no-temperature-law')
    expect(code(conductivityAt(siemensPerMeter(0), 'copper', 25))).toBe('materials/bad-value')
    expect(code(conductivityAt20(siemensPerMeter(1e9), 'aluminum', 60))).toBe('materials/bad-value')
  })
})

describe('a measured value', () => {
  const source = 'B. Author, conductivity meter 7, 2024-05-02'
  it('stands beside the row', () => {
    const both = withMeasured(named(' 2024-t3 '), { conductivity: fromTrade(31, '%IACS'), source })
    expect(both).toMatchObject({ measured: { source }, conductivity_IACS: { value: 30 } })
    expect(code(withMeasured(named('1100'), { conductivity: fromTrade(20, '%IACS'), source }))).toBe('answered')
  })
  it('is refused outside the limits, without a source, or as no value', () => {
    const row = named('7075-T73')
    const refused = withMeasured(row, { conductivity: fromTrade(33, '%IACS'), source })
    expect(code(refused)).toBe('materials/outside-range')
    expect(refused).toMatchObject({ needed: '38 to 43 %IACS (ams-4124, as explained in public)' })
    expect(withMeasured(named('2024-T3'), { conductivity: fromTrade(40, '%IACS'), source })).toMatchObject({
      needed: '28.5 to 32.5 %IACS (from memory, proposed)'
    })
    expect(code(withMeasured(row, { conductivity: fromTrade(40, '%IACS'), source: ' ' }))).toBe('materials/no-source')
    expect(code(withMeasured(row, { conductivity: siemensPerMeter(0), source }))).toBe('materials/bad-value')
    expect(code(materialNamed('unobtainium'))).toBe('materials/unknown')
  })
})
