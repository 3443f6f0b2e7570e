/**
 * Oracle: the days of the certificates as they are written in the rows, by a calendar; ISO 15549, 10.3 and the list of
 * what expires (instrument, standard, people, procedure) for what has to be looked up.
 */
import { isRefusal } from '@trueloop/ground/refusal'
import { describe, expect, it } from 'vitest'
import { type RegisterRow, type Registers, type Sheet, sheetOf } from '../index.ts'
import { gaugeRow, instrumentRow, personRow, probeRow, procedureRow, standardRow } from '../testing/rows.ts'
import { sampleSheet } from '../testing/sample.ts'
import { dueNotes, type LookedUp, lookUp, usesOf } from './index.ts'

const preparation = {
  ...{ cleaned: { by: 'A', on: '2026-03-14' }, deburred: 'yes', visual: 'nothing' },
  ...{ measured_diameter_mm: 6.36, out_of_round_mm: 0.01, gauge: 'G-1', gauge_uncertainty_mm: 0.005 },
  measured: { by: 'A', on: '2026-03-13' }
}

// biome-ignore lint/suspicious/noExplicitAny: a sheet is plain data until it is read
function sheet(spoil: (sheet: any) => void = () => {}): Sheet {
  const value = sampleSheet()
  value.equipment = { instrument: 'I-1', probe: 'P-1', entered_by: 'A' }
  value.examined_by = 'C. Level'
  value.people = [{ name: 'C. Level', level: 'III' }]
  value.confirmed = { by: 'C. Level', level: 'III', on: '2026-03-14' }
  value.holes[0].preparation = preparation
  spoil(value)
  const read = sheetOf(value)
  if ('refusals' in read) throw new Error(JSON.stringify(read.refusals))
  return read.sheet
}

const shop = (...rows: readonly RegisterRow[]): Registers => ({
  registered: rows.map((row, seq) => ({ row, document: `document ${seq}`, seq })),
  struckOff: []
})

const certificate = (issued: string, expires: string) => ({ certificate: { number: 'K-1', issued, expires } })

const rows = (over: Partial<Record<RegisterRow['register'], RegisterRow>> = {}) =>
  shop(
    ...Object.values({
      ...{ person: personRow(), instrument: instrumentRow(), probe: probeRow() },
      ...{ 'reference standard': standardRow(), gauge: gaugeRow(), procedure: procedureRow() },
      ...over
    })
  )

const days = (day: string) => [0, 1, 2].map((index) => ({ index, day }))

function found(of: Sheet, registers: Registers, day = '2026-03-14') {
  return usesOf(of, days(day)).map((use) => lookUp(registers, of, use))
}

const codesOf = (all: ReturnType<typeof found>) =>
  all.flatMap((one) => (isRefusal(one) ? [[one.code, one.where?.path]] : []))

describe('what is looked up', () => {
  it('is procedure, person, standard, instrument and probe on the day of the scan, a gauge on its own', () => {
    expect(usesOf(sheet(), days('2026-03-14')).map(({ what, name, day }) => [what, name, day])).toEqual([
      ['procedure', 'P', '2026-03-14'],
      ['person', 'C. Level', '2026-03-14'],
      ['reference standard', 'R', '2026-03-14'],
      ['instrument', 'I-1', '2026-03-14'],
      ['probe', 'P-1', '2026-03-14'],
      ['gauge', 'G-1', '2026-03-13']
    ])
  })

  it('is the equipment of a recording where that differs, and no gauge of a hole that was not scanned', () => {
    const other = sheet((one) => {
      one.recordings[2].equipment = { probe: 'P-2' }
    })
    const uses = usesOf(other, [{ index: 2, day: '2026-03-15' }])
    expect(uses.map(({ what }) => what)).not.toContain('gauge')
    expect(uses.find(({ what }) => what === 'probe')).toMatchObject({
      name: 'P-2',
      steps: ['recordings', 2, 'equipment', 'probe']
    })
  })

  it('stands in the registers', () => {
    const all = found(sheet(), rows())
    expect(codesOf(all)).toEqual([])
    expect((all as LookedUp[]).map(({ registered }) => registered.row.register)).toEqual([
      ...['procedure', 'person', 'reference standard', 'instrument', 'probe', 'gauge']
    ])
  })
})

describe('a use is refused', () => {
  it.each<[string, Registers, readonly (readonly string[])[]]>([
    ['plan/not-registered', shop(), [['technique.procedure.id']].map(([path]) => ['plan/not-registered', path!])],
    ['plan/not-registered', rows({ probe: probeRow({ serial: 'P-9' }) }), [['plan/not-registered', 'equipment.probe']]],
    [
      'plan/out-of-date',
      rows({ instrument: instrumentRow(certificate('2025-01-01', '2026-03-13')) }),
      [['plan/out-of-date', 'equipment.instrument']]
    ],
    [
      'plan/out-of-date',
      rows({ 'reference standard': standardRow(certificate('2026-03-15', '2027-03-14')) }),
      [['plan/out-of-date', 'reference_standard.id']]
    ],
    [
      'plan/out-of-date',
      rows({ gauge: gaugeRow(certificate('2025-01-01', '2026-03-12')) }),
      [['plan/out-of-date', 'holes[0].preparation.gauge']]
    ],
    [
      'plan/out-of-date',
      rows({ person: personRow({ near_vision: { examined: '2025-01-01', expires: '2026-03-13' } }) }),
      [['plan/out-of-date', 'examined_by']]
    ],
    [
      'plan/out-of-date',
      rows({ procedure: procedureRow({ superseded: '2026-03-14' }) }),
      [['plan/out-of-date', 'technique.procedure.id']]
    ],
    [
      'plan/register-differs',
      rows({ procedure: procedureRow({ revision: 'B' }) }),
      [['plan/register-differs', 'technique.procedure.revision']]
    ],
    [
      'plan/register-differs',
      rows({ person: personRow({ level: 'II' }) }),
      [['plan/register-differs', 'people[0].level']]
    ],
    [
      'plan/register-differs',
      rows({ gauge: gaugeRow({ uncertainty_mm: 0.01 }) }),
      [['plan/register-differs', 'holes[0].preparation.gauge_uncertainty_mm']]
    ]
  ])('%s', (code, registers, expected) => {
    const all = codesOf(found(sheet(), registers))
    expect(all.map(([one]) => one)).toContain(code)
    for (const one of expected) expect(all).toContainEqual(one)
    if (registers.registered.length > 0) expect(all).toEqual(expected)
  })

  it('where a notch of the standard is deeper in the sheet than in its certificate', () => {
    const deeper = sheet((one) => {
      one.reference_standard.notches[0].depth_mm = 0.6
    })
    expect(codesOf(found(deeper, rows()))).toEqual([['plan/register-differs', 'reference_standard.notches']])
    const other = sheet((one) => {
      one.reference_standard.certificate = 'K-0'
    })
    expect(codesOf(found(other, rows()))).toEqual([['plan/register-differs', 'reference_standard.certificate']])
  })

  it('where nobody knows the instrument', () => {
    const unknown = sheet((one) => {
      one.equipment.instrument = 'unknown'
    })
    expect(codesOf(found(unknown, rows()))).toEqual([['plan/not-registered', 'equipment.instrument']])
  })

  it('from the day on which it was struck off, with the reason', () => {
    const out = { what: 'probe', name: 'P-1', from: '2026-03-14', reason: 'coil worn', seq: 9 } as const
    const registers = { ...rows(), struckOff: [out] }
    expect(codesOf(found(sheet(), registers, '2026-03-13'))).toEqual([])
    const [no] = found(sheet(), registers).filter((one) => isRefusal(one))
    expect(no).toMatchObject({ code: 'plan/not-registered', where: { path: 'equipment.probe' } })
    expect(no?.found).toContain('struck off from 2026-03-14: coil worn')
  })
})

describe('a certificate', () => {
  /** 2026-03-14 and thirty days more is 2026-04-13; the last day still holds. */
  it.each([
    ['2026-03-14', 'falls due', 1],
    ['2026-04-13', 'falls due', 1],
    ['2026-04-14', 'in force', 0]
  ])('that ends on %s is %s', (expires, standing, count) => {
    const all = found(sheet(), rows({ instrument: instrumentRow(certificate('2025-04-14', expires)) })) as LookedUp[]
    expect(all.find(({ what }) => what === 'instrument')?.spans[0]?.standing).toBe(standing)
    expect(dueNotes(all)).toHaveLength(count)
  })

  it('that falls due is told once, by its latest day', () => {
    const registers = rows({ instrument: instrumentRow(certificate('2025-04-14', '2026-04-01')) })
    const uses = usesOf(sheet(), [
      { index: 0, day: '2026-03-14' },
      { index: 1, day: '2026-03-30' }
    ])
    const all = uses.map((use) => lookUp(registers, sheet(), use)) as LookedUp[]
    expect(dueNotes(all)).toEqual(['falls due: certificate of instrument I-1, 2026-04-01; 2 days left on 2026-03-30'])
  })
})
