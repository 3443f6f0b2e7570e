import { describe, expect, it } from 'vitest'
import { type HoleSheet, sheetFor, sheetOf } from '../index.ts'
import { sampleSheet } from '../testing/sample.ts'

/** Oracle: the rules as the issue has them, on a sheet spoiled by hand. */

const reference = { of: 'reference', file: 'r2.wav' }
const again = { of: 'hole', hole: 'H1', file: 'again.wav' }
const cleaned = { confirms: 'h1.wav', after: 'cleaned and entered again' }

const refused = (recordings: readonly object[], technique: object = {}) => {
  const sheet = sampleSheet()
  sheet.recordings.push(...recordings)
  sheet.technique = { ...sheet.technique, ...technique }
  const reading = sheetOf(sheet)
  return 'refusals' in reading ? reading.refusals.map(({ code, where }) => [code, where?.path]) : 'sound'
}

describe('a scan that confirms', () => {
  it.each<[string, object]>([
    ['an earlier recording of the hole', cleaned],
    ['an indication of the scan before it', { ...cleaned, confirms: 'H1/2' }],
    ['nothing', {}]
  ])('may confirm %s', (_, change) => expect(refused([{ ...again, ...change }])).toBe('sound'))

  it.each<[string, object, string]>([
    ['a recording of another hole', { ...cleaned, confirms: 'h2.wav' }, 'confirms'],
    ['a recording that nobody named', { ...cleaned, confirms: 'x.wav' }, 'confirms'],
    ['itself', { ...cleaned, confirms: 'again.wav' }, 'confirms'],
    ['an indication of another hole', { ...cleaned, confirms: 'H2/1' }, 'confirms'],
    ['what is no indication', { ...cleaned, confirms: 'H1/0' }, 'confirms'],
    ['something, by nothing', { confirms: 'h1.wav' }, 'after'],
    ['nothing, by cleaning', { after: 'cleaned and entered again' }, 'after']
  ])('may not confirm %s', (_, change, key) =>
    expect(refused([{ ...again, ...change }])).toEqual([['plan/nothing-to-confirm', `recordings[3].${key}`]])
  )

  it('may not confirm an indication that no scan can have seen yet', () => {
    const sheet = sampleSheet()
    sheet.recordings[1] = { ...sheet.recordings[1], ...cleaned, confirms: 'H1/1' }
    const reading = sheetOf(sheet)
    expect('refusals' in reading && reading.refusals[0]?.code).toBe('plan/nothing-to-confirm')
  })
})

describe('a scan with another set-up', () => {
  it.each(['other sense', 'second probe'])('stands on a reference scan of it: %s', (after) => {
    const scan = { ...again, confirms: 'h1.wav', after }
    expect(refused([scan])).toEqual([['plan/set-up-differs', 'recordings[3].after']])
    expect(refused([{ ...reference, set_up: after }, scan])).toBe('sound')
    const check = { of: 'recheck', file: 'c.wav' }
    expect(refused([{ ...reference, set_up: after }, scan, check])).toEqual([
      ['plan/set-up-differs', 'recordings[5].set_up']
    ])
    expect(refused([{ ...reference, set_up: after }, scan, { ...check, set_up: after }])).toBe('sound')
  })

  it('does not lend its reference scan to others', () =>
    expect(refused([{ ...reference, set_up: 'other sense' }, again])).toEqual([
      ['plan/set-up-differs', 'recordings[4].after']
    ]))

  it('of a second frequency needs the technique to have one', () => {
    const set_up = 'second frequency'
    const both = [
      { ...reference, set_up },
      { ...again, confirms: 'h1.wav', after: set_up }
    ]
    expect(refused(both)).toEqual([['plan/missing-value', 'technique.second_frequency_kHz']])
    expect(refused(both, { second_frequency_kHz: 200 })).toBe('sound')
  })
})

describe('the sheet for a set-up', () => {
  const read = () => {
    const sheet = sampleSheet()
    sheet.technique.second_frequency_kHz = 200
    return (sheetOf(sheet) as { sheet: HoleSheet }).sheet
  }

  it('meets the notches the other way round in the other sense', () => {
    const { reference_standard: standard } = sheetFor(read(), 'other sense')
    // 95° and 10° one way are 265° and 350° the other
    expect(standard.notches.map(({ angle_deg }) => angle_deg)).toEqual([265, 350])
    expect(sheetFor(sheetFor(read(), 'other sense'), 'other sense')).toEqual(read())
  })

  it('has the second frequency in the place of the first', () =>
    expect(sheetFor(read(), 'second frequency').technique.frequency_kHz).toBe(200))

  it('is the sheet for a second probe, and where nothing is otherwise', () => {
    expect(sheetFor(read(), 'second probe')).toEqual(read())
    expect(sheetFor(read(), undefined)).toEqual(read())
  })
})
