import { describe, expect, it } from 'vitest'
import { isDay, momentOf } from './calendar.ts'
import { checkConfirmed, equipmentWith, pathSteps, pathText, sheetJsonSchema, sheetOf } from './index.ts'
import { changes, nearest } from './nearest.ts'
import { sampleSheet } from './testing/sample.ts'

type Expected = readonly (readonly string[])[]
type Change = (sheet: ReturnType<typeof sampleSheet>) => void

/** The object that holds a place, and the place's last step. */
function holder(sheet: ReturnType<typeof sampleSheet>, path: string) {
  const steps = pathSteps(path)
  return { place: steps.slice(0, -1).reduce((at, step) => at[step], sheet), last: steps.at(-1) ?? '' }
}

const set =
  (path: string, value: unknown): Change =>
  (sheet) => {
    const { place, last } = holder(sheet, path)
    place[last] = value
  }

const drop =
  (path: string): Change =>
  (sheet) => {
    const { place, last } = holder(sheet, path)
    delete place[last]
  }

const refusalsAfter = (change: Change) => {
  const sheet = sampleSheet()
  change(sheet)
  const reading = sheetOf(sheet)
  return 'refusals' in reading ? reading.refusals : []
}

const said = (change: Change) => refusalsAfter(change).map(({ code, where }) => [code, where?.path ?? ''])

describe('a sheet', () => {
  it('that is sound is read, its defaults filled in', () => {
    const reading = sheetOf(sampleSheet())
    expect('sheet' in reading && reading.sheet.equipment.cable).toBe('unknown')
  })

  const cases: readonly [string, Change, Expected][] = [
    ['an unknown key', set('job.componnt', 'x'), [['plan/unknown-key', 'job.componnt']]],
    ["the number of the shop's own record", set('job.id', '(shop)'), [['plan/bad-value', 'job.id']]],
    ['an odd key', set('job["a b"]', 1), [['plan/unknown-key', 'job["a b"]']]],
    [
      'a key of another kind of recording',
      set('recordings[0].hole', 'H1'),
      [['plan/unknown-key', 'recordings[0].hole']]
    ],
    ['a value out of range', set('technique.frequency_kHz', 0), [['plan/bad-value', 'technique.frequency_kHz']]],
    ['a text for a number', set('holes[0].grip_mm', '9 mm'), [['plan/bad-value', 'holes[0].grip_mm']]],
    ['an endless number', set('holes[0].grip_mm', Infinity), [['plan/bad-value', 'holes[0].grip_mm']]],
    ['a missing value', drop('technique.metal'), [['plan/missing-value', 'technique.metal']]],
    ['no holes', set('holes', []), [['plan/bad-value', 'holes']]],
    ['another version', set('trueloop', 'job/2'), [['plan/bad-value', 'trueloop']]],
    ['an unknown kind of recording', set('recordings[1].of', 'holes'), [['plan/bad-value', 'recordings[1].of']]],
    ['no kind of recording', drop('recordings[1].of'), [['plan/missing-value', 'recordings[1].of']]],
    ['a band upside down', set('technique.band', { low: 9, high: 10 }), [['plan/bad-value', 'technique.band']]],
    [
      'a key in a band',
      set('technique.band', { low: 3, high: 9, mid: 5 }),
      [['plan/unknown-key', 'technique.band.mid']]
    ],
    ['a day of no calendar', set('job.opened', '2026-02-30'), [['plan/bad-value', 'job.opened']]],
    [
      'a time of no calendar',
      set('recordings[0].taken', '2026-02-30T10:00'),
      [['plan/bad-value', 'recordings[0].taken']]
    ],
    ['a job opened later', set('job.opened', '2026-03-15'), times('plan/dates-out-of-order')],
    ['a confirmation later', set('confirmed.on', '2026-03-15'), times('plan/dates-out-of-order')],
    [
      'times out of order',
      set('recordings[2].taken', '2026-03-14T09:00:00Z'),
      [['plan/dates-out-of-order', 'recordings[2].taken']]
    ],
    [
      'times with and without offset',
      set('recordings[2].taken', '2026-03-14T12:00:00'),
      [['plan/bad-value', 'recordings[2].taken']]
    ],
    ['an unknown hole', set('recordings[1].hole', 'H9'), [['plan/unknown-hole', 'recordings[1].hole']]],
    ['an unknown person', set('examined_by', 'C'), [['plan/unknown-person', 'examined_by']]],
    ['a person of two levels', set('confirmed.level', 'II'), [['plan/bad-value', 'confirmed.level']]],
    ['an unknown notch', set('technique.alarm.notch', 'N9'), [['plan/unknown-notch', 'technique.alarm.notch']]],
    ['a place off the drawing', set('holes[0].at', { x_mm: 1e6, y_mm: 0 }), [['plan/bad-value', 'holes[0].at.x_mm']]],
    ['half a place', set('holes[0].at', { x_mm: 1 }), [['plan/missing-value', 'holes[0].at.y_mm']]],
    [
      'a hole twice',
      set('holes[1].id', 'H1'),
      [
        ['plan/double-name', 'holes[1].id'],
        ['plan/unknown-hole', 'recordings[2].hole']
      ]
    ],
    [
      'a notch twice',
      set('reference_standard.notches[1].id', 'N1'),
      [['plan/double-name', 'reference_standard.notches[1].id']]
    ],
    ['a person twice', set('people[1].name', 'A'), [['plan/double-name', 'people[1].name']]],
    ['a file twice', set('recordings[2].file', './x/../h1.wav'), [['plan/file-twice', 'recordings[2].file']]],
    [
      'a joint outside',
      set('holes[0].interfaces_mm', [9]),
      [['plan/interface-outside-grip', 'holes[0].interfaces_mm[0]']]
    ],
    [
      'joints out of order',
      set('holes[0].interfaces_mm', [5, 4]),
      [['plan/interface-outside-grip', 'holes[0].interfaces_mm[1]']]
    ],
    ['a layer too many', set('holes[0].layers', ['a', 'b', 'c']), [['plan/bad-value', 'holes[0].layers']]],
    [
      'a notch outside',
      set('reference_standard.notches[0].z1_mm', 99),
      [['plan/notch-outside-standard', 'reference_standard.notches[0].z1_mm']]
    ],
    [
      'a notch upside down',
      set('reference_standard.notches[0].z1_mm', 1),
      [['plan/notch-outside-standard', 'reference_standard.notches[0].z1_mm']]
    ],
    [
      'a notch of another length',
      set('reference_standard.notches[0].length_mm', 2),
      [['plan/notch-outside-standard', 'reference_standard.notches[0].length_mm']]
    ],
    [
      'a corner in the middle',
      set('reference_standard.notches[0].place', 'entry corner'),
      [['plan/notch-outside-standard', 'reference_standard.notches[0].z0_mm']]
    ],
    [
      'an exit corner in the middle',
      set('reference_standard.notches[0].place', 'exit corner'),
      [['plan/notch-outside-standard', 'reference_standard.notches[0].z1_mm']]
    ],
    [
      'no pitch for a constant feed',
      (s) => {
        s.technique.axial_position = 'constant feed'
        delete s.technique.pitch_mm
      },
      [['plan/missing-value', 'technique.pitch_mm']]
    ],
    ['a pitch beyond its limit', set('technique.pitch_mm', 1), [['plan/bad-value', 'technique.pitch_mm']]],
    [
      'a drawing with a hole that is none',
      set('drawings', [{ file: 'panel.svg', places: [{ name: 'H9', x: 0, y: 1 }] }]),
      [['plan/unknown-place', 'drawings[0].places[0].name']]
    ],
    [
      'a drawing twice, with a hole twice',
      set('drawings', [
        { file: 'panel.svg' },
        {
          file: 'panel.svg',
          places: [
            { name: 'H1', x: 0.1, y: 0.1 },
            { name: 'H1', x: 0.2, y: 0.1 }
          ]
        }
      ]),
      [
        ['plan/file-twice', 'drawings[1].file'],
        ['plan/double-name', 'drawings[1].places[1].name']
      ]
    ],
    [
      'a place beside the picture',
      set('drawings', [{ file: 'panel.svg', places: [{ name: 'H1', x: 1.1, y: 0 }] }]),
      [['plan/bad-value', 'drawings[0].places[0].x']]
    ],
    ['a hole before the reference', (s) => void s.recordings.shift(), [['plan/no-reference-first', 'recordings[0].of']]]
  ]

  it.each(cases)('with %s is refused at its place', (_, change, expected) => expect(said(change)).toEqual(expected))

  it('of a weld knows its tracks and slots', () => {
    const sheet = weldSheet()
    expect(sheetOf(sheet)).toHaveProperty('sheet')
    sheet.recordings[1].track = 'T2'
    sheet.technique.alarm.slot = 'S9'
    const reading = sheetOf(sheet)
    expect('refusals' in reading && reading.refusals.map(({ code }) => code)).toEqual([
      ...['plan/unknown-notch', 'plan/unknown-track']
    ])
  })

  it('says what was meant', () => {
    expect(refusalsAfter(set('job.componnt', 'x'))[0]?.remedy).toBe('did you mean "component"?')
    expect(refusalsAfter(set('recordings[1].of', 'holes'))[0]?.needed).toContain('"hole"')
    expect(refusalsAfter(set('people[0].level', 'ii'))[0]?.remedy).toBe('did you mean "II"?')
    expect(refusalsAfter(set('holes[0].grip_mm', '9,5'))[0]?.remedy).toContain('point')
    expect(refusalsAfter(set('holes[0].grip_mm', '9 mm'))[0]?.remedy).toContain('unit stands in the key')
    expect(refusalsAfter(set('job.id', 12))[0]?.remedy).toBe('write it in quotes: "12"')
  })

  it('can be planned with, not examined with, until it is confirmed', () => {
    const sheet = sampleSheet()
    delete sheet.confirmed
    const reading = sheetOf(sheet)
    if ('refusals' in reading) throw new Error('refused')
    expect(checkConfirmed(reading.sheet)?.code).toBe('plan/not-confirmed')
  })

  it('takes what a recording names of its equipment, and nothing else, from the recording', () => {
    const sheet = sampleSheet()
    sheet.equipment.cable = 'C-1'
    sheet.recordings[1].equipment = { gain: '40 dB' }
    const reading = sheetOf(sheet)
    if ('refusals' in reading) throw new Error('refused')
    const [, second] = reading.sheet.recordings
    expect(second?.equipment).toEqual({ gain: '40 dB' })
    expect(equipmentWith(reading.sheet.equipment, second?.equipment)).toMatchObject({ cable: 'C-1', gain: '40 dB' })
  })

  it('of any kind of nonsense is refused, never thrown at', () => {
    for (const value of [null, 3, 'text', [], { technique: null }, { technique: { application: 'toString' } }])
      expect(sheetOf(value)).toHaveProperty('refusals')
  })
})

/** Both recordings of holes and the reference lie before the day. */
const times = (code: string) => [0, 1, 2].map((at) => [code, `recordings[${at}].taken`])

function weldSheet() {
  const { technique: _, holes: __, reference_standard: ___, ...common } = sampleSheet()
  return {
    ...common,
    technique: {
      ...{ application: 'weld', procedure: { id: 'P', revision: 'A' }, metal: 'steel', frequency_kHz: 100 },
      ...{ field_width_mm: 2.4, max_speed_mm_s: 60, alarm: { slot: 'S1', share: 0.5 }, min_signal_to_noise: 3 }
    },
    reference_standard: { id: 'B', metal: 'steel', slots: [{ id: 'S1', depth_mm: 1, position_mm: 60 }] },
    tracks: [{ id: 'T1', length_mm: 400 }],
    recordings: [
      { of: 'reference', file: 'b.csv' },
      { of: 'track', track: 'T1', file: 't.csv' }
    ] as ReturnType<typeof sampleSheet>[]
  }
}

describe('the calendar', () => {
  // Gregorian leap years: ISO 8601; instants by RFC 3339 section 4 (offset subtracted)
  it('knows its leap days', () => {
    const days = ['2024-02-29', '2000-02-29', '1900-02-29', '2026-02-29', '2026-04-31', '2026-12-31', '2026-13-01']
    expect(days.map(isDay)).toEqual([true, true, false, false, false, true, false])
  })

  it('puts times in the order of Date, in and out of zones', () => {
    const texts = [
      ...['2026-03-14T23:59:59Z', '2026-03-15T01:30:00+02:00', '2024-02-29T12:00Z', '1999-12-31T23:59:59.5-11:30'],
      ...['2000-01-01T00:00Z', '2026-12-31T23:59:59+14:00', '2100-03-01T00:00:00Z', '1600-03-01T00:00:00Z']
    ]
    const epoch = momentOf('1970-01-01T00:00:00Z')?.seconds ?? 0
    for (const text of texts) expect((momentOf(text)?.seconds ?? 0) - epoch).toBe(Date.parse(text) / 1000)
    expect(momentOf('2026-03-14T10:00')?.hasOffset).toBe(false)
    expect(momentOf('2026-02-30T10:00')).toBeUndefined()
  })
})

describe('places and near names', () => {
  it('are written and read back', () => {
    for (const steps of [['a', 3, 'b_mm'], ['odd key', 'x"y'], ['$schema'], [0]])
      expect(pathSteps(pathText(steps))).toEqual(steps)
  })

  it('count changes as Damerau did', () => {
    // F. J. Damerau's four kinds of error: one wrong, one missing, one extra letter, two neighbors swapped
    expect(['hole', 'hol', 'holee', 'ohle', 'hale'].map((word) => changes(word, 'hole'))).toEqual([0, 1, 1, 1, 1])
    expect(nearest('xyz', ['hole', 'track'])).toBeUndefined()
    expect(nearest('Taken', ['file', 'taken'])).toBe('taken')
  })
})

describe('the published schema', () => {
  it('is JSON Schema with the declared help and ranges', () => {
    const text = JSON.stringify(sheetJsonSchema())
    expect(text).toContain('https://json-schema.org/draft/2020-12/schema')
    expect(text).toContain('"minimum":0.05,"maximum":2,"description":"Alarm level as a share of the named notch"')
  })
})
