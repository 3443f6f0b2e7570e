/** Oracle: the rule by hand, on invented chains. */
import { describe, expect, it } from 'vitest'
import type { Entry, EntryOf } from './index.ts'
import { parseEntry, preparationsIn, replay, reportBlocks } from './index.ts'
import { chainOfEntries, head, inventedReport, kept, opened, plain, sha256 } from './testing/index.ts'

const hole = (name: string) => ({ of: 'hole' as const, name })

const prepared = (name: string, visual: string, more = {}): EntryOf<'place-prepared'> => ({
  kind: 'place-prepared',
  version: 1,
  ...head(),
  subject: hole(name),
  cleaned: { by: 'C', on: '2026-03-14' },
  deburred: 'not needed',
  visual,
  signed: false,
  ...more
})

const measured = {
  measured_diameter_mm: 6.4,
  out_of_round_mm: 0.02,
  gauge: 'bore gauge 7',
  gauge_uncertainty_mm: 0.005,
  measured: { by: 'C', on: '2026-03-14' }
}

const first = prepared('1', 'first')
const second = prepared('1', 'second', measured)

const entries: readonly Entry[] = [
  opened('J', ['1', '2']),
  kept('a', hole('1')),
  first,
  kept('b', hole('1')),
  prepared('2', 'of the other'),
  second,
  kept('c', hole('1'))
]

const rows = chainOfEntries('J', entries)
const seenIn = (all = rows) => {
  const of = preparationsIn(all)
  return ['a', 'b', 'c', 'new'].map((file) => of(hole('1'), sha256(file))?.visual)
}

describe('the preparation that holds for a recording', () => {
  it('is the last before it, the first for what came before any, and the latest for a new one', () =>
    expect(seenIn()).toEqual(['first', 'first', 'second', 'second']))

  it('is none of a place that nobody prepared', () => {
    expect(preparationsIn(rows.slice(0, 2))(hole('1'), sha256('a'))).toBeUndefined()
    expect(preparationsIn(rows)({ of: 'track', name: '1' }, sha256('a'))).toBeUndefined()
  })

  it('is as it was corrected, in its place', () => {
    const { id } = first
    const becomes = JSON.parse(JSON.stringify({ ...first, visual: 'corrected' }))
    const wrong: EntryOf<'corrected'> = {
      ...{ kind: 'corrected', version: 1, ...head(), corrects: id, reason: 'mistyped', becomes }
    }
    expect(seenIn(chainOfEntries('J', [...entries, wrong]))).toEqual(['corrected', 'corrected', 'second', 'second'])
  })

  it('stands with its place, the latest', () => {
    const [one, other] = replay(rows).places
    expect([one?.preparation?.visual, other?.preparation?.visual]).toEqual(['second', 'of the other'])
    expect(replay(rows.slice(0, 2)).places[0]).not.toHaveProperty('preparation')
  })
})

describe('its entry', () => {
  it.each([
    ['measured_diameter_mm', -1],
    ['out_of_round_mm', -0.1],
    ['signed', true],
    ['deburred', 'perhaps'],
    ['photo', 'p.jpg']
  ])('has no %s of %s', (key, value) => {
    expect(parseEntry({ ...second, [key]: value })).toMatchObject({ code: 'record/bad-entry' })
  })
  it('is read as it was written', () => expect(parseEntry(second)).toEqual(second))
})

describe('the section of the report', () => {
  const whole = inventedReport()
  const section = (input: typeof whole): string => {
    const text = plain(reportBlocks(input))
    return text.slice(text.indexOf('## Preparation'), text.indexOf('## Standardization'))
  }
  const [one, ...others] = whole.state.places
  const withPlace = { ...one!, preparation: second }
  const state = { ...whole.state, places: [withPlace, ...others] }

  it('prints who cleaned, what was seen, diameter, out-of-round and gauge; and who was not measured', () => {
    const said = section({ ...whole, state })
    for (const text of ['C, 2026-03-14', 'not needed', 'second', '6.400 mm', '0.020 mm', 'bore gauge 7, ± 0.005 mm'])
      expect(said).toContain(text)
    expect(said).toContain(others[0]!.place.name)
    expect(said).not.toContain('Oversize holes')
  })

  it('is not contradicted by the table of the places', () => {
    const { measured_diameter_mm: _, ...bare } = second
    const rowIn = (own: typeof second) => {
      const input = { ...whole, state: { ...state, places: [{ ...one!, preparation: own }, ...others] } }
      const text = plain(reportBlocks(input))
      const places = text.slice(text.indexOf('Places as prepared'))
      return places.split('\n').find((line) => line.startsWith(`  ${one!.place.name} |`)) ?? ''
    }
    const told = rowIn({ ...second, photo: 'a'.repeat(64) })
    for (const text of ['6.400 mm', 'second', 'a'.repeat(12)]) expect(told).toContain(text)
    expect(rowIn(bare as typeof second)).toContain('second')
    expect(rowIn(bare as typeof second)).not.toContain('6.400 mm')
  })

  it('prints the loss in dB, the lowered alarm, and why a hole was not examined', () => {
    const [named, ...rest] = whole.examinations
    const told = { diameter_m: 6.4e-3, outOfRound_m: 2e-5, standard_m: 6.35e-3, wider_m: 5e-5, doubt_m: 5e-6 }
    const oversize = {
      ...{ ...told, gauge: 'bore gauge 7', basis: 'mean coil radius 0.5 mm', alarm: 0.35 },
      ...{ gap_m: { centered: 2e-5, most: 5.5e-5 }, loss_dB: { centered: 1.04, most: 3.5 } }
    }
    const refusal = {
      ...{ refused: true as const, code: 'examine/oversize-beyond-limit', remedy: 'r' },
      ...{ found: 'a hole too wide', needed: 'at most 3 dB' }
    }
    const document = { ...named!.document, oversize, refusals: [refusal] }
    const said = section({ ...whole, state, examinations: [{ ...named!, document }, ...rest] })
    for (const text of [
      '0.050 mm ± 0.005 mm',
      '1.0 dB',
      '3.5 dB',
      '35.0 %',
      'not examined: a hole too wide (needed: at most 3 dB)'
    ])
      expect(said).toContain(text)
  })
})
