/** Names, units and behavior to roles. The headers are ours, made to the kinds that the outside README lists. */
import { describe, expect, it } from 'vitest'
import { isRefusal, survey } from '../testing/look.ts'
import { circle, table } from '../testing/make.ts'
import { CERTAIN } from './guess.ts'
import { titleOf } from './names.ts'
import { lengthScale, timeScale, unitText } from './units.ts'

const roles = (header: string, row: (k: number) => string): string => {
  const seen = survey(table(header, 200, row))
  if (isRefusal(seen)) throw new Error(seen.code)
  return seen.columns
    .map(({ role, certainty }) => `${role}${certainty < CERTAIN && role !== 'ignore' ? '?' : ''}`)
    .join(' ')
}
const t = (k: number): string => (k / 500).toFixed(3)
const signal = (k: number): string => `${t(k)},${circle(k)}`
const pulse = (k: number): number => (k % 40 === 0 ? 1 : 0)

describe('roles from names', () => {
  it.each([
    ['time_s,x_V,y_V', 'time x y'],
    ['Time (ms),H (mV),V (mV)', 'time x y'],
    ['t [µs],Real,Imag', 'time x y'],
    ['elapsed/s,I,Q', 'time x y'],
    ['time_s,R,X', 'time x y'],
    ['time_s,resistance_Ohm,reactance_Ohm', 'time x y'],
    ['time_s,in-phase,quadrature', 'time x y'],
    ['time_s,Channel X (V),Channel Y (V)', 'time x y'],
    ['time_s,x1,y1', 'time x y'],
    ['Zeit (s),horizontal,vertikal', 'time x? y?'],
    ['t,x,y', 'time? x y'],
    ['time_s,Channel 1,Channel 2', 'time x? y?'],
    ['time_s,amplitude,phase (°)', 'time x? angle']
  ])('%s', (header, expected) => {
    expect(roles(header, signal)).toBe(expected)
  })

  it.each([
    ['time_s,x,y,index', 'time x y index'],
    ['time_s,x,y,trigger', 'time x y index'],
    ['time_s,x,y,lift-off', 'time x y absolute'],
    ['time_s,x,y,a_V', 'time x y absolute'],
    ['time_s,x,y,status', 'time x y ignore'],
    ['time_s,x,y,angle_deg', 'time x y angle']
  ])('%s', (header, expected) => {
    expect(roles(header, (k) => `${signal(k)},${pulse(k)}`)).toBe(expected)
  })

  it('a counter named index is no index', () => {
    expect(roles('index,x,y', (k) => `${k},${circle(k)}`)).toBe('ignore x y')
  })

  it('x in millimeters is a position, and two lengths are a question', () => {
    expect(roles('x (mm),h,v', (k) => `${k / 10},${circle(k)}`)).toBe('position x y')
    expect(roles('x (mm),y (mm),h,v', (k) => `${k / 10},${k / 5},${circle(k)}`)).toBe('position? ignore x y')
    expect(roles('time_s,position,x,y', (k) => `${t(k)},${k / 10},${circle(k)}`)).toBe('time position? x y')
  })

  it('coordinates are not taken for a signal', () => {
    expect(roles('x,y,z', (k) => `${(k / 10).toFixed(1)},${circle(k)}`)).toBe('x? y? ignore')
  })

  it('two pairs are a question', () => {
    expect(roles('time_s,x1,y1,x2,y2', (k) => `${signal(k)},${circle(2 * k)}`)).toBe('time x? y? ignore ignore')
  })

  it('an x that only rises is a question', () => {
    expect(roles('x,y', (k) => `${k},${circle(k).split(',')[0]}`)).toBe('x? y?')
  })
})

describe('roles from behavior', () => {
  it('are never certain', () => {
    expect(roles('', (k) => `${signal(k)},${pulse(k)}`)).toBe('time? x? y? index?')
  })

  it('come with a reason each', () => {
    const seen = survey(table('', 200, (k) => `${signal(k)},${pulse(k)}`))
    if (isRefusal(seen)) throw new Error(seen.code)
    expect(seen.columns.map((column) => column.reason)).toEqual([
      'every value is above the one before, like a time',
      'the first column that varies like a signal',
      'the second column that varies like a signal',
      'has two values, like an index pulse'
    ])
    expect(seen.certain).toBe(false)
  })
})

describe('titles and units', () => {
  it.each([
    [['t (µs)'], 't', 'µs'],
    [['x_V'], 'x', 'V'],
    [['position_um'], 'position', 'µm'],
    [['Time/s'], 'Time', 's'],
    [['TIME', 's', ''], 'TIME', 's'],
    [['CH1', 'V', 're'], 'CH1 re', 'V'],
    [['V'], 'V', undefined],
    [['channel (left)'], 'channel (left)', undefined]
  ])('%j', (cells, base, unit) => {
    const title = titleOf(cells)
    expect([title.base, title.unit]).toEqual([base, unit])
  })

  it('micro is micro however it is written', () => {
    expect(['\u03bcs', '\u00b5s', 'us'].map(unitText)).toEqual(['µs', 'µs', 'µs'])
    expect([timeScale('us'), lengthScale('μm'), lengthScale('in'), timeScale('mm')]).toEqual([
      1e-6,
      1e-6,
      0.0254,
      undefined
    ])
  })
})
