/** Oracles: days counted with the platform's own Date; the rules as the trade has them, written out. */
import { describe, expect, it } from 'vitest'
import { everyRow, gaugeRow, instrumentRow, personRow, probeRow, procedureRow, standardRow } from '../testing/rows.ts'
import {
  checkRow,
  nameOfRow,
  type RegisterRow,
  registerNames,
  registerRowSchema,
  rowOfDocument,
  rowsOf,
  standingOf,
  standingsOn
} from './index.ts'

const day_ms = 86_400_000
const dayPlus = (day: string, days: number): string =>
  new Date(Date.parse(`${day}T00:00:00Z`) + days * day_ms).toISOString().slice(0, 10)

describe('how a row stands', () => {
  // ends that lie before and after a leap day, a year's end, and a month of 28 days
  it.each(['2027-01-09', '2028-03-15', '2027-03-01', '2026-12-31', '2100-03-10'])('by days before %s', (expires) => {
    const row = gaugeRow({ certificate: { number: 'K', issued: '2026-01-10', expires } })
    const on = (days: number) => standingOf(row, dayPlus(expires, days))
    expect([1, 0, -30, -31].map(on)).toEqual(['expired', 'falls due', 'falls due', 'in force'])
  })

  it('by days before it begins', () => {
    const row = procedureRow({ in_force_from: '2026-03-01' })
    expect(standingOf(row, dayPlus('2026-03-01', -1))).toBe('not yet in force')
    expect(standingOf(row, '2026-03-01')).toBe('in force')
  })

  it('ends on the day before a later revision holds', () => {
    const row = procedureRow({ superseded: '2026-06-01' })
    expect(standingOf(row, dayPlus('2026-06-01', -1))).toBe('falls due')
    expect(standingOf(row, '2026-06-01')).toBe('expired')
    expect(standingsOn(row, '2026-05-01')[0]).toMatchObject({ until: '2026-06-01', ends: true, left_days: 30 })
  })

  it('holds on where it states no end', () => {
    expect(standingOf(probeRow(), '2199-01-01')).toBe('in force')
    expect(standingOf(procedureRow(), '2199-01-01')).toBe('in force')
  })

  it('of a person is the worse of certificate and near vision', () => {
    const near = personRow({ near_vision: { examined: '2025-01-01', expires: '2026-03-13' } })
    expect(standingOf(near, '2026-03-14')).toBe('expired')
    const paper = personRow({ certificate: { number: 'ET-1', issued: '2021-01-01', expires: '2026-03-13' } })
    expect(standingOf(paper, '2026-03-14')).toBe('expired')
    expect(standingsOn(paper, '2026-03-14').map(({ of, left_days }) => [of, left_days])).toEqual([
      ['certificate', -1],
      ['near vision', 301]
    ])
  })

  it('counts days as the calendar does, over 400 years', () => {
    for (let at = 0; at < 146_097; at += 97) {
      const expires = dayPlus('1970-01-01', at)
      const row = probeRow({ expires })
      const left = (from: string) => standingsOn(row, from)[0]?.left_days
      expect(left('1970-01-01')).toBe(at)
      expect(left(dayPlus(expires, 1))).toBe(-1)
    }
  })
})

const codesOf = (row: RegisterRow) => checkRow(row).map(({ code, where }) => [code, where?.path])

describe('a row', () => {
  it('of every register is sound, and read back from its document', () => {
    expect(everyRow().map(({ register }) => register)).toEqual(registerNames)
    for (const row of everyRow()) {
      expect(codesOf(row)).toEqual([])
      expect(rowOfDocument(JSON.parse(JSON.stringify(row)))).toEqual(row)
      expect(registerRowSchema.safeParse(row).success).toBe(true)
    }
    expect(everyRow().map(nameOfRow)).toEqual(['C. Level', 'I-1', 'P-1', 'R', 'G-1', 'P'])
  })

  it('is nothing else', () => {
    for (const value of [null, 7, {}, { register: 'toString' }, { register: 'gauge', version: 2 }])
      expect(rowOfDocument(value)).toBeUndefined()
  })

  const backwards = { number: 'K', issued: '2026-01-10', expires: '2026-01-09' }
  const noDay = { number: 'K', issued: '2026-02-29', expires: '2027-01-09' }

  it.each<[string, RegisterRow, string, string]>([
    ['a certificate', personRow({ certificate: backwards }), 'plan/dates-out-of-order', 'certificate.expires'],
    ['a verification', instrumentRow({ certificate: backwards }), 'plan/dates-out-of-order', 'certificate.expires'],
    ['a gauge', gaugeRow({ certificate: backwards }), 'plan/dates-out-of-order', 'certificate.expires'],
    ['a standard', standardRow({ certificate: backwards }), 'plan/dates-out-of-order', 'certificate.expires'],
    [
      'near vision',
      personRow({ near_vision: { examined: '2026-01-10', expires: '2026-01-09' } }),
      'plan/dates-out-of-order',
      'near_vision.expires'
    ],
    ['a procedure', procedureRow({ superseded: '2025-12-31' }), 'plan/dates-out-of-order', 'superseded'],
    ['a procedure that expires', procedureRow({ expires: '2025-12-31' }), 'plan/dates-out-of-order', 'expires'],
    ['a day of no calendar', instrumentRow({ certificate: noDay }), 'plan/bad-value', 'certificate.issued'],
    ['a day of no calendar', probeRow({ expires: '2026-04-31' }), 'plan/bad-value', 'expires'],
    [
      'an approval on a day of no calendar',
      procedureRow({ approved: { by: 'C', level: 'III', on: '2026-02-30' } }),
      'plan/bad-value',
      'approved.on'
    ],
    [
      'a range upside down',
      probeRow({ coil: { width_mm: 1, frequency_kHz: { least: 9, most: 2 } } }),
      'plan/bad-value',
      'coil.frequency_kHz'
    ]
  ])('is refused where %s is wrong', (_, row, code, path) => expect(codesOf(row)).toEqual([[code, path]]))

  it('of a standard says of every notch, once, how well it is known', () => {
    const notch_uncertainty = ['N1', 'N1', 'N3'].map((id) => ({ id, uncertainty_mm: 0.01 }))
    expect(codesOf(standardRow({ notch_uncertainty }))).toEqual([
      ['plan/unknown-notch', 'notch_uncertainty[2].id'],
      ['plan/double-name', 'notch_uncertainty[1].id'],
      ['plan/missing-value', 'notch_uncertainty']
    ])
  })

  it('says in three parts that its dates are reversed', () => {
    const [no] = checkRow(personRow({ certificate: backwards }))
    expect(no).toMatchObject({
      found: '2026-01-09 as the end of certificate, which begins on 2026-01-10',
      needed: 'an end on or after the beginning',
      remedy: 'correct the one of the two that is wrong'
    })
  })
})

const written = () => {
  const bare = everyRow().map(({ register: _, version: __, ...row }) => row as Record<string, unknown>)
  const [person, instrument, probe, standard, gauge, procedure] = bare
  const { key: _, method: __, ...unkeyed } = person as Record<string, unknown>
  return {
    ...{ trueloop: 'registers/1', people: [unkeyed], instruments: [instrument], probes: [probe] },
    ...{ reference_standards: [standard], gauges: [gauge], procedures: [procedure] }
  }
}
const refused = (value: unknown) => {
  const reading = rowsOf(value)
  return 'refusals' in reading ? reading.refusals.map(({ code, where }) => [code, where?.path]) : 'sound'
}

describe('a file of rows', () => {
  it('gives a row for each, a person without a key', () => {
    const reading = rowsOf(written())
    if ('refusals' in reading) throw new Error(JSON.stringify(reading.refusals))
    const { key: _, ...person } = personRow()
    expect(reading.rows.map(({ row }) => row)).toEqual([person, ...everyRow().slice(1)])
    expect(reading.rows.map(({ steps }) => steps.join('.'))).toContain('reference_standards.0')
  })

  it('may have one list alone, or none', () => {
    expect(refused({ trueloop: 'registers/1' })).toBe('sound')
    expect(refused({ trueloop: 'registers/1', gauges: written().gauges })).toBe('sound')
  })

  it.each<[string, unknown, readonly (readonly string[])[]]>([
    ['is none', [], [['plan/missing-value', 'trueloop']]],
    ['is a job sheet', { trueloop: 'job/1' }, [['plan/bad-value', 'trueloop']]],
    ['has an unknown list', { trueloop: 'registers/1', peple: [] }, [['plan/unknown-key', 'peple']]],
    [
      'has a person without a level',
      { ...written(), people: [{ ...written().people[0], level: undefined }] },
      [['plan/missing-value', 'people[0].level']]
    ],
    [
      'has an unknown key in a row',
      { ...written(), probes: [{ ...written().probes[0], tap: 'x' }] },
      [['plan/unknown-key', 'probes[0].tap']]
    ],
    [
      'has a row twice',
      { ...written(), gauges: [gaugeRow(), gaugeRow()].map(({ register: _, version: __, ...row }) => row) },
      [['plan/double-name', 'gauges[1]']]
    ]
  ])('is refused where it %s', (_, value, expected) => expect(refused(value)).toEqual(expected))

  it('places a complaint of a row in the file', () => {
    const gauges = [
      { ...written().gauges[0], certificate: { number: 'K', issued: '2026-02-01', expires: '2026-01-01' } }
    ]
    expect(refused({ ...written(), gauges })).toEqual([['plan/dates-out-of-order', 'gauges[0].certificate.expires']])
  })
})
