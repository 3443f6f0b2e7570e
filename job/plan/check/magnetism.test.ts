import { describe, expect, it } from 'vitest'
import { magnetismOf, sheetOf } from '../index.ts'
import { sampleSheet } from '../testing/sample.ts'

/**
 * Oracle of the kinds: relative permeability as the table of materials has it with its sources (1 for 304, 75 for 17-7PH,
 * 141 for A106), and for grades without a row the structure that their names stand for: ferrite and martensite are
 * ferromagnetic, austenite is not. Oracle of the checks: the rule itself, on sheets spoiled by hand.
 */
describe('a metal by its name', () => {
  it.each([
    ['carbon steel A106', 'ferromagnetic'],
    ['17-7PH TH1050', 'ferromagnetic'],
    ['steel 4340, quenched and tempered', 'ferromagnetic'],
    ['17-4PH stainless', 'ferromagnetic'],
    ['stainless steel 410', 'ferromagnetic'],
    ['440C', 'ferromagnetic'],
    ['Low alloy steel', 'ferromagnetic'],
    ['cast iron', 'ferromagnetic'],
    ['304', 'not ferromagnetic'],
    ['stainless steel 304', 'not ferromagnetic'],
    ['aluminum 7075-T6', 'not ferromagnetic'],
    ['aluminum', 'not ferromagnetic'],
    ['Ti-6Al-4V', 'not ferromagnetic'],
    ['titanium', 'not ferromagnetic'],
    ['Inconel 718', 'not ferromagnetic'],
    ['austenitic stainless steel', 'not ferromagnetic'],
    ['stainless steel', 'grade decides'],
    ['nickel', 'grade decides'],
    ['m', 'unknown']
  ])('%s: %s', (name, expected) => expect(magnetismOf(name)).toBe(expected))
})

type Sheet = ReturnType<typeof sampleSheet>

const steel = (): Sheet => {
  const sheet = sampleSheet()
  sheet.technique.metal = '4340'
  const facts = { demagnetized: { by: 'C', on: '2026-03-14' }, heat_treatment: '1250 MPa' }
  Object.assign(sheet.reference_standard, { metal: '4340', ...facts })
  for (const hole of sheet.holes) Object.assign(hole, structuredClone(facts))
  return sheet
}

const saidOf = (change: (sheet: Sheet) => void, sheet = steel()) => {
  change(sheet)
  const reading = sheetOf(sheet)
  return 'refusals' in reading ? reading.refusals.map(({ code, where }) => [code, where?.path]) : []
}

describe('a sheet on steel', () => {
  it('that says all is sound', () => {
    expect(saidOf(() => undefined)).toEqual([])
    expect(
      saidOf((s) => {
        s.holes[0].demagnetized = 'not needed: no magnetic clamp or particle test since heat treatment'
        s.holes[0].heat_treatment = ['1250 MPa']
      })
    ).toEqual([])
  })

  it('has to say both of hole and standard', () => {
    const bare = (s: Sheet) => {
      for (const one of [s.holes[1], s.reference_standard]) {
        delete one.demagnetized
        delete one.heat_treatment
      }
    }
    expect(saidOf(bare)).toEqual([
      ['plan/missing-value', 'reference_standard.demagnetized'],
      ['plan/missing-value', 'reference_standard.heat_treatment'],
      ['plan/missing-value', 'holes[1].demagnetized'],
      ['plan/missing-value', 'holes[1].heat_treatment']
    ])
  })

  it('asks where one layer among others is ferromagnetic, or may be', () => {
    const layers = (metal: string) => (s: Sheet) => {
      s.holes[0].layers = ['aluminum', metal]
    }
    const asked = [
      ['plan/missing-value', 'holes[0].demagnetized'],
      ['plan/missing-value', 'holes[0].heat_treatment']
    ]
    expect(saidOf(layers('carbon steel'), sampleSheet())).toEqual(asked)
    expect(saidOf(layers('stainless steel'), sampleSheet())).toEqual(asked)
    expect(saidOf(layers('titanium'), sampleSheet())).toEqual([])
  })

  it('takes a heat treatment of the hole that is not the standard’s for a reason to standardize again', () => {
    expect(
      saidOf((s) => {
        s.holes[1].heat_treatment = '1800 MPa'
      })
    ).toEqual([['plan/heat-treatment-differs', 'holes[1].heat_treatment']])
    expect(
      saidOf((s) => {
        s.holes[0].layers = ['aluminum', '4340']
        s.holes[0].heat_treatment = ['T6', '1800 MPa']
        s.holes[1].heat_treatment = ' 1250  mpa'
      })
    ).toEqual([['plan/heat-treatment-differs', 'holes[0].heat_treatment[1]']])
  })

  it('has one heat treatment a layer', () =>
    expect(
      saidOf((s) => {
        s.holes[0].heat_treatment = ['1250 MPa', '1250 MPa']
      })
    ).toEqual([['plan/bad-value', 'holes[0].heat_treatment']]))

  it('has days of the calendar, not after the recordings', () => {
    const on = (day: string) => (s: Sheet) => {
      s.holes[0].demagnetized.on = day
    }
    expect(saidOf(on('2026-02-30'))).toEqual([['plan/bad-value', 'holes[0].demagnetized.on']])
    expect(saidOf(on('2026-03-15'))).toEqual([['plan/dates-out-of-order', 'holes[0].demagnetized.on']])
    expect(
      saidOf((s) => {
        s.reference_standard.demagnetized.on = '2026-03-15'
      })
    ).toEqual([['plan/dates-out-of-order', 'reference_standard.demagnetized.on']])
  })

  it('gives a reason where demagnetizing was not needed', () =>
    expect(
      saidOf((s) => {
        s.holes[0].demagnetized = 'not needed'
      })[0]
    ).toEqual(['plan/bad-value', 'holes[0].demagnetized']))
})

describe('hand feed', () => {
  it('needs the way of its strokes and the ratio', () => {
    const byHand = (s: Sheet) => {
      s.technique.axial_position = 'hand feed, by strokes'
    }
    expect(saidOf(byHand, sampleSheet())).toEqual([['plan/missing-value', 'technique.hand_feed']])
    const full = (ratio: number) => (s: Sheet) => {
      byHand(s)
      s.technique.hand_feed = { strokes: 'through and back', fastest_to_mean: ratio }
    }
    expect(saidOf(full(2), sampleSheet())).toEqual([])
    expect(saidOf(full(0.9), sampleSheet())).toEqual([['plan/bad-value', 'technique.hand_feed.fastest_to_mean']])
  })
})
