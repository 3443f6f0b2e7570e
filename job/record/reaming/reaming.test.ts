import { isRefusal } from '@trueloop/ground/refusal'
import { describe, expect, it } from 'vitest'
import { append, chainOf, type EntryRow } from '../chain.ts'
import { openReasons } from '../closing.ts'
import type { Entry } from '../kinds.ts'
import { replay } from '../replay.ts'
import { examined, head, indication, kept, opened, plain, rechecked, sha256, standardized } from '../testing/index.ts'
import { type Invented, invent, personStored, signedBy, witnessOf } from '../testing/people.ts'
import { reamingBlocks } from './index.ts'

/**
 * Oracle: the path of a reamed hole as the trade has it (cut, cleaned, measured again, examined at the new diameter with
 * a standard of that diameter, or another cut); bolt-hole-study-1, p. 56. Diameters and sums by hand beside each case.
 */

const two = invent('B. Two')
const witness = witnessOf([two])
const subject = { of: 'hole', name: '1' } as const
const crack = indication({ id: '1/1', angle_rad: 1, z_m: 4e-3 })

const rules = {
  permitted_sizes_mm: [
    { diameter_mm: 6.75, over_mm: 0.02, under_mm: 0 },
    { diameter_mm: 7.14, over_mm: 0.02, under_mm: 0 },
    { diameter_mm: 7.54, over_mm: 0.02, under_mm: 0 }
  ],
  ...{ max_diameter_mm: 8, min_edge_margin: 1.5, depth_allowance_mm: 0.1, eccentricity_mm: 0.03 },
  diameter_class_mm: 0.04
}

const choice = (chosen_mm: number, over: object = {}) => ({
  ...{ trueloop: 'ream/1', chosen_mm, next_mm: 6.75, rules, measured_mm: [[6.36, 6.35]], lines: ['by hand'] },
  ...over
})

/** A record as a test grows it; every refused entry is a fault of the test unless it asks for the code. */
class Book {
  rows: readonly EntryRow[] = []
  count = 0
  add(...entries: readonly Entry[]): string | undefined {
    const done = append(chainOf('J', this.rows, witness), { expectedSeq: this.rows.length, entries }, sha256)
    if (isRefusal(done)) return done.code
    this.rows = [...this.rows, ...done.fresh]
    return undefined
  }
  state(draft: object, by: Invented = two): string | undefined {
    const seen = { job: 'J', head: this.rows.at(-1)!.hash }
    return this.add(signedBy(by, { version: 1, ...head(), subject, ...draft } as never, seen))
  }
  choose(ream: object | undefined, rest: object = {}): string | undefined {
    const waiting = this.place.joined.flatMap(({ seen }) => seen)
    const seen = waiting.map(({ id, recording }) => ({ examination: examinationOf(this.rows, recording), id }))
    const given = ream === undefined ? {} : { ream }
    return this.state({ kind: 'disposed', disposition: 'clean-up ream', seen, ...given, ...rest })
  }
  cut(aimed_mm: number): string | undefined {
    return this.state({ kind: 'reamed', aimed_mm })
  }
  prepare(largest_mm: number | undefined, outOfRound_mm = 0.01, on = '2026-03-14'): void {
    const done = { by: 'A', on }
    const measured =
      largest_mm === undefined
        ? {}
        : {
            ...{ measured_diameter_mm: largest_mm, out_of_round_mm: outOfRound_mm },
            ...{ gauge: 'G-1', gauge_uncertainty_mm: 0.005, measured: done }
          }
    const facts = { cleaned: done, deburred: 'yes' as const, visual: `nothing ${++this.count}`, signed: false as const }
    this.add({ kind: 'place-prepared', version: 1, ...head(), subject, ...facts, ...measured })
  }
  /** reference scan on a standard of this diameter, scan of the hole, and a good recheck */
  scan(standard_mm: number, found: readonly ReturnType<typeof indication>[] = []): void {
    const [reference, scan, check] = ['ref', 'scan', 'check'].map((what) => `${what} ${++this.count}`)
    this.add(
      kept(reference!, { of: 'reference' }),
      { ...standardized(reference!), diameter_mm: standard_mm },
      kept(scan!, subject),
      examined(scan!, '1', reference!, { indications: [...found] }),
      kept(check!, { of: 'recheck' }),
      rechecked(check!, reference!, true)
    )
  }
  get place() {
    return replay(this.rows).places[0]!
  }
  get open(): readonly string[] {
    return openReasons(this.place, {})
  }
}

const examinationOf = (rows: readonly EntryRow[], recording: string): string =>
  rows.map(({ body }) => JSON.parse(body)).find((entry) => entry.kind === 'examined' && entry.recording === recording)
    .examination

/** A hole of 6.35 to 6.36 mm with a crack. */
function cracked(): Book {
  const book = new Book()
  expect(book.add({ ...opened('J', ['1']), signing: 'required' }, personStored(two))).toBeUndefined()
  book.prepare(6.36)
  book.scan(6.35, [crack])
  return book
}

function cut(over: object = {}, chosen_mm = 6.75): Book {
  const book = cracked()
  expect(book.choose(choice(chosen_mm, over), { reason: 'by hand' })).toBeUndefined()
  expect(book.cut(chosen_mm)).toBeUndefined()
  return book
}

const standardizedAt = 'not standardized at its new diameter'
const examinedAt = 'not examined at its new diameter'

describe('a reamed hole is closed', () => {
  it('after every step of the loop, each missing one a reason of its own', () => {
    const book = cut()
    const [cleaned, measured] = ['cleaned', 'measured'].map((step) => `not ${step} since it was cut on 2026-03-14`)
    expect(book.open).toEqual([cleaned, measured, standardizedAt, examinedAt, 'not examined'])
    book.prepare(undefined)
    expect(book.open).toEqual([measured, standardizedAt, examinedAt, 'not examined'])
    book.prepare(6.76)
    expect(book.open).toEqual([standardizedAt, examinedAt, 'not examined'])
    expect(book.state({ kind: 'place-closed' })).toBe('record/place-open')
    book.scan(6.75)
    expect(book.open).toEqual([])
    expect(book.place.loop).toEqual({
      measured_mm: [
        [6.36, 6.35],
        [6.76, 6.75]
      ],
      // 6.75 − 6.36 = 0.39 at least, 6.76 − 6.35 = 0.41 at most
      ...{ removed: { least_mm: 0.39, most_mm: 0.41 }, open: [] }
    })
    expect(book.state({ kind: 'place-closed' })).toBeUndefined()
    expect(book.place.closed).toBeDefined()
  })

  it('not by a cleaning or a measuring of the day before', () => {
    const book = cut()
    book.prepare(6.76, 0.01, '2026-03-13')
    book.scan(6.75)
    expect(book.open.slice(0, 2)).toEqual([
      'not cleaned since it was cut on 2026-03-14',
      'not measured since it was cut on 2026-03-14'
    ])
  })

  it('not by a scan that came before the measuring', () => {
    const book = cut()
    book.scan(6.75)
    book.prepare(6.76)
    expect(book.open).toEqual([standardizedAt, examinedAt])
  })

  it.each<[string, number, number, readonly string[]]>([
    // 6.79 − 6.76 = 0.03 and 6.79 − 6.75 = 0.04, just within the class
    ['at the end of the class', 6.79, 6.76, []],
    [
      'a hundredth beyond it',
      6.8,
      6.76,
      [`${standardizedAt}: reference standard 6.8 mm, hole 6.75 to 6.76 mm, at most 0.04 mm apart`, examinedAt]
    ],
    [
      'on the standard of the old diameter',
      6.35,
      6.76,
      [`${standardizedAt}: reference standard 6.35 mm, hole 6.75 to 6.76 mm, at most 0.04 mm apart`, examinedAt]
    ],
    [
      'and it came out above the tolerance of its size',
      6.77,
      6.78,
      ['measured 6.77 to 6.78 mm, the size chosen is 6.75 to 6.77 mm: cut to another permitted size or refer']
    ]
  ])('not where it was standardized %s', (_, standard, largest, expected) => {
    const book = cut()
    book.prepare(largest)
    book.scan(standard)
    expect(book.open).toEqual(expected)
  })

  it('not while something shows at its new diameter', () => {
    const book = cut()
    book.prepare(6.76)
    book.scan(6.75, [crack])
    expect(book.open[0]).toBe('the examination at 6.75 to 6.76 mm: relevant')
    expect(book.state({ kind: 'place-closed' })).toBe('record/place-open')
    expect(book.choose(choice(7.14, { next_mm: 7.14, measured_mm: [[6.36], [6.76]] }))).toBeUndefined()
    expect(book.open).toEqual(['to be reamed, cleaned, measured, standardized and examined at its new diameter'])
    expect(book.cut(7.14)).toBeUndefined()
    book.prepare(7.15)
    book.scan(7.14)
    expect(book.open).toEqual([])
    // 7.14 − 6.36 and 7.15 − 6.35
    expect(book.place.loop?.removed).toEqual({ least_mm: 0.78, most_mm: 0.8 })
  })

  it('after the further cut that the procedure asks for', () => {
    const over = { rules: { ...rules, further_cut_mm: 0.3 } }
    const book = cut(over)
    book.prepare(6.76)
    book.scan(6.75)
    expect(book.open).toEqual(['the procedure asks for a further cut of 0.3 mm'])
    expect(book.choose(choice(7.14, { ...over, next_mm: 7.14, measured_mm: [[6.36], [6.76]] }))).toBeUndefined()
    expect(book.cut(7.14)).toBeUndefined()
    expect(book.open).toContain(examinedAt)
    book.prepare(7.15)
    book.scan(7.14)
    // 6.76 + 0.3 = 7.06, and the hole is 7.14 at its narrowest
    expect(book.open).toEqual([])
  })

  it('not with more cuts than the procedure permits, whatever lay between them', () => {
    const over = { rules: { ...rules, most_cuts: 1 } }
    const book = cut(over)
    expect(book.choose(choice(7.14, over), { reason: 'the first cut came out too large' })).toBeUndefined()
    expect(book.cut(7.14)).toBeUndefined()
    book.prepare(7.15)
    book.scan(7.14)
    expect(book.open).toEqual(['2 cuts, at most 1 permitted: refer it'])
    expect(book.state({ kind: 'disposed', disposition: 'refer', seen: [] })).toBeUndefined()
    expect(book.open).toEqual([])
  })

  it('not where nobody recorded what the procedure says', () => {
    const book = cracked()
    expect(book.choose(undefined)).toBeUndefined()
    expect(book.cut(6.75)).toBeUndefined()
    book.prepare(6.76)
    book.scan(6.75)
    expect(book.open[0]).toBe('no rules of reaming were recorded with the choice: refer it')
  })
})

describe('a choice', () => {
  it('of another size than the proposed one has its reason', () => {
    const book = cracked()
    expect(book.choose(choice(7.14))).toBe('record/no-reason')
    const { next_mm: _, ...referred } = choice(6.75)
    expect(book.choose(referred)).toBe('record/no-reason')
    expect(book.choose(choice(7.14), { reason: 'no reamer of 6.75 mm is at hand' })).toBeUndefined()
  })

  it.each([6.8, 6.35, 8.5])('of %s mm is no permitted one that is larger', (chosen) => {
    expect(cracked().choose(choice(chosen), { reason: 'any' })).toBe('record/size-not-permitted')
  })

  it('is cut as it was chosen', () => {
    const book = cracked()
    book.choose(choice(6.75))
    expect(book.cut(7.14)).toBe('record/no-ream-chosen')
    expect(book.cut(6.75)).toBeUndefined()
  })
})

describe('a report', () => {
  it('shows the arithmetic, the cuts and the metal that they took', () => {
    const book = cut({ lines: ['increase of the diameter: 0.4 mm (by hand)'] })
    book.prepare(6.76)
    const text = plain(reamingBlocks(replay(book.rows)))
    expect(text).toContain('Clean-up ream of hole 1 to Ø 6.75 mm, chosen by B. Two')
    expect(text).toContain('increase of the diameter: 0.4 mm (by hand)')
    expect(text).toContain(
      '1 | 1: Ø 6.75 mm | 6.35 to 6.36 mm | 6.75 to 6.76 mm | 0.39 to 0.41 mm off the diameter | not standardized'
    )
    book.scan(6.75)
    book.state({ kind: 'place-closed' })
    expect(plain(reamingBlocks(replay(book.rows)))).toContain('off the diameter | closed')
  })
})
