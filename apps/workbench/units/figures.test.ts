import { describe, expect, it } from 'vitest'
import { amplitudeText, aroundText, clockText, lengthText, sentenceIn } from './figures.ts'

/** Oracles: 1 inch is 25.4 mm exactly; 20 log10 2 = 6.02 dB; an hour on a clock face is 30 degrees. */

const metric = { length: 'mm', angle: 'degrees', amplitude: 'share' } as const
const other = { length: 'inch', angle: 'clock', amplitude: 'dB' } as const

describe('figures', () => {
  it('are written in the unit chosen', () => {
    expect(lengthText(metric, 6.35e-3)).toBe('6.35 mm')
    expect(lengthText(other, 6.35e-3)).toBe('0.250 in')
    expect(amplitudeText(metric, 0.5, 'notch')).toBe('50 %')
    expect(amplitudeText(other, 0.5, 'notch')).toBe('−6.0 dB')
    expect(amplitudeText(other, 0, 'notch')).toBe('none')
    expect(amplitudeText(other, 12.34, 'recorded')).toBe('12.3 as recorded')
  })

  it('are clock positions only where the job has a datum', () => {
    expect(aroundText(other, Math.PI / 2, 'clock')).toBe('3:00')
    expect(aroundText(other, Math.PI / 2, 'relative angle')).toBe('90°')
    expect(aroundText(metric, Math.PI / 2, 'clock')).toBe('90°')
    expect(aroundText(metric, 2.5 * Math.PI, 'clock')).toBe('90°')
  })

  it.each([
    [0, '12:00'],
    [0.25, '3:00'],
    [0.5, '6:00'],
    [1 / 24, '12:30'],
    [0.9999, '12:00'],
    [0.9, '10:48']
  ])('a turn of %d is %s', (turn, text) => expect(clockText(turn)).toBe(text))
})

describe('sentences', () => {
  it('keep what they say, in inches with one digit more', () => {
    expect(sentenceIn(metric, 'a pitch of 0.60 mm')).toBe('a pitch of 0.60 mm')
    expect(sentenceIn(other, 'a pitch of 0.60 mm (needed: at most 0.38 mm)')).toBe(
      'a pitch of 0.024 in (needed: at most 0.015 in)'
    )
    expect(sentenceIn(other, '≤ 2.54 mm; angle 84° ± 4°; 12 mms')).toBe('≤ 0.100 in; angle 84° ± 4°; 12 mms')
  })
})
