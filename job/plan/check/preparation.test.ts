import { describe, expect, it } from 'vitest'
import { measuredOf, sheetFor, sheetOf } from '../index.ts'
import { sampleSheet } from '../testing/sample.ts'

/** Oracle: the rule itself, on sheets spoiled by hand. */

type Sheet = ReturnType<typeof sampleSheet>

const prepared = (): Sheet => {
  const sheet = sampleSheet()
  sheet.holes[0].diameter_mm = 6.35
  sheet.holes[0].preparation = {
    cleaned: { by: 'C', on: '2026-03-14' },
    deburred: 'not needed',
    visual: 'nothing',
    measured_diameter_mm: 6.4,
    out_of_round_mm: 0.02,
    gauge: 'bore gauge 7',
    gauge_uncertainty_mm: 0.005,
    measured: { by: 'C', on: '2026-03-14' }
  }
  sheet.technique.probe = { mean_coil_radius_mm: 0.5, fit: 'fixed diameter' }
  sheet.technique.oversize = { max_loss_dB: 3 }
  return sheet
}

const saidOf = (change: (preparation: Sheet, sheet: Sheet) => void) => {
  const sheet = prepared()
  change(sheet.holes[0].preparation, sheet)
  const reading = sheetOf(sheet)
  return 'refusals' in reading ? reading.refusals.map(({ code, where }) => [code, where?.path]) : []
}

const place = (key: string) => `holes[0].preparation.${key}`

describe('a hole that was prepared', () => {
  it('and says all of it is sound; so is one that was not measured, and a limit shown by an oversize hole', () => {
    expect(saidOf(() => undefined)).toEqual([])
    const { cleaned, deburred, visual } = prepared().holes[0].preparation
    expect(saidOf((_, s) => Object.assign(s.holes[0], { preparation: { cleaned, deburred, visual } }))).toEqual([])
    const shown = { shown_harmless_to_mm: 0.05, source: 'standard R-2' }
    expect(saidOf((_, s) => Object.assign(s.technique, { oversize: shown, probe: undefined }))).toEqual([])
  })

  it.each(['out_of_round_mm', 'gauge', 'gauge_uncertainty_mm', 'measured', 'measured_diameter_mm'])(
    'is not measured by halves: without %s',
    (key) => expect(saidOf((p) => delete p[key])).toEqual([['plan/missing-value', place(key)]])
  )

  it.each(['cleaned', 'deburred', 'visual'])('is not prepared by halves: without %s', (key) => {
    expect(saidOf((p) => delete p[key])).toEqual([['plan/missing-value', place(key)]])
  })

  it.each([
    ['measured_diameter_mm', -6.4],
    ['measured_diameter_mm', 640],
    ['out_of_round_mm', -0.01],
    ['gauge_uncertainty_mm', -0.005],
    ['gauge', ''],
    ['deburred', 'perhaps'],
    ['visual', 7]
  ])('is not %s: %s', (key, value) => {
    expect(saidOf((p) => Object.assign(p, { [key]: value }))).toEqual([['plan/bad-value', place(key)]])
  })

  it('is not narrower than its drawing by more than the gauge may be off', () => {
    const measured = (largest: number, outOfRound = 0) =>
      saidOf((p) => Object.assign(p, { measured_diameter_mm: largest, out_of_round_mm: outOfRound }))
    expect(measured(6.345)).toEqual([])
    expect(measured(6.344)).toEqual([['plan/bad-value', place('measured_diameter_mm')]])
    expect(measured(6.4, 0.055)).toEqual([])
    expect(measured(6.4, 0.056)).toEqual([['plan/bad-value', place('out_of_round_mm')]])
  })

  it('has days of the calendar', () => {
    expect(saidOf((p) => Object.assign(p.cleaned, { on: '2026-02-30' }))).toEqual([
      ['plan/bad-value', place('cleaned.on')]
    ])
    expect(saidOf((p) => Object.assign(p.measured, { on: '2026-02-30' }))).toEqual([
      ['plan/bad-value', place('measured.on')]
    ])
  })
})

describe('a technique', () => {
  it('that allows a loss says of which coil', () => {
    expect(saidOf((_, s) => delete s.technique.probe)).toEqual([['plan/missing-value', 'technique.probe']])
  })

  it.each([
    [{ max_loss_dB: -1 }, 'plan/bad-value', 'technique.oversize.max_loss_dB'],
    [{ max_loss_dB: 40 }, 'plan/bad-value', 'technique.oversize.max_loss_dB'],
    [{ shown_harmless_to_mm: 0.05 }, 'plan/missing-value', 'technique.oversize.source'],
    [{ max_loss_dB: 3, shown_harmless_to_mm: 0.05, source: 'R-2' }, 'plan/bad-value', 'technique.oversize'],
    [{}, 'plan/bad-value', 'technique.oversize']
  ])('has a limit of one kind, within its range: %o', (oversize, code, path) => {
    expect(saidOf((_, s) => Object.assign(s.technique, { oversize }))).toEqual([[code, path]])
  })

  it.each([
    ['mean_coil_radius_mm', 0],
    ['fit', 'tight']
  ])('has a probe that exists: %s', (key, value) => {
    expect(saidOf((_, s) => Object.assign(s.technique.probe, { [key]: value }))).toEqual([
      ['plan/bad-value', `technique.probe.${key}`]
    ])
  })

  it('says nothing of the fit of a second probe', () => {
    const reading = sheetOf(prepared())
    if (!('sheet' in reading) || !('holes' in reading.sheet)) throw new Error('the sheet is sound')
    const { technique } = sheetFor(reading.sheet, 'second probe')
    expect([technique.probe, technique.oversize]).toEqual([undefined, undefined])
    expect(sheetFor(reading.sheet, undefined).technique).toBe(reading.sheet.technique)
    expect(sheetFor(reading.sheet, 'other sense').technique.probe).toBeDefined()
  })
})

it('measuredOf gives all five values or none', () => {
  const { preparation } = prepared().holes[0]
  expect(measuredOf(preparation)?.measured_diameter_mm).toBe(6.4)
  expect(measuredOf({ ...preparation, gauge: undefined })).toBeUndefined()
  expect(measuredOf(undefined)).toBeUndefined()
})
