import { isRefusal } from '@trueloop/ground/refusal'
import { describe, expect, it } from 'vitest'
import { append, chainOf } from './chain.ts'
import { openReasons } from './closing.ts'
import type { Entry, EntryOf } from './kinds.ts'
import { replay, voidsOf } from './replay.ts'
import type { JobState } from './state.ts'
import {
  chainOfEntries,
  examined,
  head,
  indication,
  kept,
  opened,
  rechecked,
  sha256,
  standardized,
  whole
} from './testing/index.ts'

const holes = ['1', '2', '3', '4']
const reference = (name = 'r') => [kept(name, { of: 'reference' }), standardized(name)]
const scan = (hole: string, found: Parameters<typeof examined>[3] = {}, on = 'r', name = `h${hole}`) => [
  kept(name, { of: 'hole', name: hole }),
  examined(name, hole, on, found)
]
const check = (name: string, passed: boolean, on = 'r') => [kept(name, { of: 'recheck' }), rechecked(name, on, passed)]
const stateOf = (...entries: readonly (readonly Entry[])[]): JobState =>
  replay(chainOfEntries('J', [opened('J', holes), ...entries.flat()]))
const states = (state: JobState) =>
  Object.fromEntries(
    state.places.map(({ place, state: name, provisional }) => [place.name, provisional ? `${name}?` : name])
  )

describe('the state of a hole', () => {
  const closed = (...entries: readonly (readonly Entry[])[]) => stateOf(reference(), ...entries, check('c', true))

  it('is "not examined" until somebody has looked', () => {
    expect(states(stateOf())).toEqual(Object.fromEntries(holes.map((hole) => [hole, 'not examined'])))
    expect(states(stateOf(reference(), [kept('h1', { of: 'hole', name: '1' })]))['1']).toBe('not examined')
  })

  it.each<[string, Parameters<typeof examined>[3], string]>([
    ['nothing', {}, 'examined, no relevant indication'],
    [
      'a false indication that was not scanned again',
      { indications: [indication({ class: 'false', crossedAlarm: false })] },
      'undecided'
    ],
    [
      'a nonrelevant one',
      { indications: [indication({ class: 'nonrelevant', crossedAlarm: false })] },
      'examined, no relevant indication'
    ],
    ['a relevant one', { indications: [indication()] }, 'relevant, not decided'],
    ['an undecided one', { indications: [indication({ class: 'undecided', crossedAlarm: false })] }, 'undecided'],
    ['damage', { indications: [indication({ class: 'damage, not a crack', crossedAlarm: false })] }, 'undecided'],
    ['a nonrelevant one above the alarm level', { indications: [indication({ class: 'nonrelevant' })] }, 'undecided'],
    ['no zones', { zones: [] }, 'not examined'],
    [
      'a zone that was not covered',
      { zones: [...whole, { zone: 'exit corner', state: 'not examined', covered: 0.2, why: ['pitch'] }] },
      'not examined'
    ],
    ['a relevant one and a zone not covered', { zones: [], indications: [indication()] }, 'relevant, not decided']
  ])('with %s', (_, found, expected) => expect(states(closed(scan('1', found)))['1']).toBe(expected))

  it('counts a zone as examined where one of two scans covered it', () => {
    const half = (zone: string) =>
      whole.map((one) =>
        one.zone === zone ? one : { ...one, state: 'not examined' as const, covered: 0, why: ['feed'] }
      )
    const first = scan('1', { zones: half('mid-bore') }, 'r', 'a')
    expect(closed(first).places[0]?.missing).toEqual([{ zone: 'entry corner', why: ['feed'] }])
    expect(states(closed(first, scan('1', { zones: half('entry corner') }, 'r', 'b')))['1']).toBe(
      'examined, no relevant indication'
    )
  })

  it('does not lose an indication to a second scan', () => {
    const state = closed(scan('1', { indications: [indication()] }, 'r', 'a'), scan('1', {}, 'r', 'b'))
    expect(states(state)['1']).toBe('relevant, not decided')
    expect(state.places[0]?.latest?.recording).toBe(sha256('b'))
  })

  it('follows the later of two examinations of one recording', () => {
    const again = examined('h1', '1', 'r', { method: 2 })
    expect(states(closed(scan('1', { indications: [indication()] }), [again]))['1']).toBe(
      'examined, no relevant indication'
    )
  })

  it('of a loop needs no zones and no check', () => {
    const job = { ...opened('J', ['p']), application: 'loop' as const, places: [{ of: 'loop' as const, name: 'p' }] }
    const one: EntryOf<'examined'> = {
      ...examined('h', 'p', 'r', { zones: [] }),
      subject: { of: 'loop', name: 'p' },
      standardization: 'none'
    }
    const state = replay(chainOfEntries('J', [job, kept('h', { of: 'loop', name: 'p' }), one]))
    expect(states(state)).toEqual({ p: 'examined, no relevant indication' })
    expect(state.places[0]?.latest?.standing).toEqual({ standing: 'no set-up to check' })
  })
})

describe('several scans of one hole', () => {
  const at = { angle_rad: 1, z_m: 0.004, z0_m: 0.0037, z1_m: 0.0043 }
  const no = { indications: [indication({ class: 'false', crossedAlarm: false, ...at })] }
  const again = (after: EntryOf<'recording-kept'>['after'], found: Parameters<typeof examined>[3] = {}, on = 'r') => [
    { ...kept('b', { of: 'hole', name: '1' }), ...(after === undefined ? {} : { after }) },
    examined('b', '1', on, found)
  ]
  const closed = (...entries: readonly (readonly Entry[])[]) => stateOf(reference(), ...entries, check('c', true))
  const none = 'examined, no relevant indication'

  it('close a false indication after cleaning alone', () => {
    expect(states(closed(scan('1', no), again('cleaned and entered again')))['1']).toBe(none)
    expect(states(closed(scan('1', no), again(undefined)))['1']).toBe('undecided')
    expect(states(closed(scan('1', no), again('cleaned and entered again', no)))['1']).toBe('undecided')
  })

  it('count with another set-up only on a standardization of it', () => {
    const other = [{ ...kept('s', { of: 'reference' as const }), setUp: 'other sense' as const }, standardized('s')]
    const seen = (deg: number) => ({ indications: [indication({ ...at, angle_rad: (deg * Math.PI) / 180 })] })
    const joined = (state: JobState) => state.places[0]?.joined.map(({ standing }) => standing)
    const wrong = closed(scan('1', seen(80)), again('other sense', seen(80)))
    expect(joined(wrong)).toEqual(['not scanned again'])
    expect(wrong.places[0]?.joined[0]?.seen[1]?.discounted).toBe('no standardization for: other sense')
    const right = stateOf(
      ...[reference(), scan('1', seen(80)), check('c', true), other],
      ...[again('other sense', seen(280), 's'), check('d', true, 's')]
    )
    expect(joined(right)).toEqual(['confirmed'])
  })

  it('keep what a voided scan saw, and do not let it confirm', () => {
    const state = stateOf(
      ...[reference(), scan('1', { indications: [indication(at)] }, 'r', 'a'), check('c', false)],
      ...[reference('s'), scan('1', { indications: [indication(at)] }, 's', 'b'), check('d', true, 's')]
    )
    expect(state.places[0]?.joined).toMatchObject([{ standing: 'not scanned again', open: true }])
    expect(state.places[0]?.joined[0]?.seen).toHaveLength(2)
  })
})

describe('closing a place', () => {
  const closing = (name = '1'): Entry => ({
    ...{ kind: 'place-closed', version: 1, subject: { of: 'hole', name }, signed: false },
    ...head()
  })
  const tried = (...entries: readonly (readonly Entry[])[]) => {
    const all = [opened('J', holes), ...reference(), ...entries.flat()]
    const answer = append(chainOf('J', []), { expectedSeq: 0, entries: [...all, closing()] }, sha256)
    return isRefusal(answer) ? `${answer.code}: ${answer.found}` : 'closed'
  }
  const of = (name: 'false' | 'undecided' | 'relevant' | 'damage, not a crack' | 'nonrelevant') =>
    scan('1', { indications: [indication({ class: name, crossedAlarm: false })] })

  it.each<[string, readonly (readonly Entry[])[], string]>([
    ['nothing that was not examined', [], 'record/place-open: hole 1: not examined'],
    ['nothing provisional', [scan('1')], 'record/place-open: hole 1: no good recheck after its scan'],
    ['nothing voided', [scan('1'), check('c', false)], 'voided by a recheck'],
    ['nothing undecided', [of('undecided'), check('c', true)], 'a, undecided: not scanned again'],
    ['no false one that was not scanned again', [of('false'), check('c', true)], 'a, false: not scanned again'],
    ['nothing relevant', [of('relevant'), check('c', true)], 'a, relevant: not scanned again'],
    ['no damage', [of('damage, not a crack'), check('c', true)], 'a, damage, not a crack: not scanned again'],
    [
      'nothing that lacks a zone',
      [
        scan('1', { zones: [...whole, { zone: 'exit corner', state: 'not examined', covered: 0, why: ['pitch'] }] }),
        check('c', true)
      ],
      'not examined: exit corner'
    ]
  ])('closes %s', (_, entries, found) => {
    const answer = tried(...entries)
    expect(answer).toMatch(/^record\/place-open: hole 1: /)
    expect(answer).toContain(found)
  })

  it('closes what was examined in every zone, with its set-up checked and nothing open', () => {
    expect(tried(scan('1'), check('c', true))).toBe('closed')
    expect(tried(of('nonrelevant'), check('c', true))).toBe('closed')
  })

  it('closes no place that the job does not name', () => {
    const all = [opened('J', holes), ...reference(), ...scan('1'), ...check('c', true), closing('9')]
    expect(append(chainOf('J', []), { expectedSeq: 0, entries: all }, sha256)).toMatchObject({
      code: 'record/place-open'
    })
  })

  it('holds until the place is examined again', () => {
    const start = [reference(), scan('1'), check('c', true), [closing()]]
    expect(stateOf(...start).places[0]?.closed?.subject.name).toBe('1')
    expect(stateOf(...start).places[1]?.closed).toBeUndefined()
    expect(stateOf(...start, scan('1', {}, 'r', 'b'), check('d', true)).places[0]?.closed).toBeUndefined()
  })
})

describe('rechecks', () => {
  const none = 'examined, no relevant indication'

  it('close what stands between two good ones', () =>
    expect(states(stateOf(reference(), scan('1'), check('c', true), scan('2')))).toMatchObject({
      1: none,
      2: `${none}?`
    }))

  it('that failed void all since the last good one, and no more', () => {
    const state = stateOf(reference(), scan('1'), check('c', true), scan('2'), scan('3'), check('d', false))
    expect(states(state)).toEqual({ 1: none, 2: 'voided by a recheck', 3: 'voided by a recheck', 4: 'not examined' })
    expect(state.rechecks.map(({ voids }) => voids)).toEqual([[], ['2', '3']])
  })

  it('that failed at once void back to the reference scan', () =>
    expect(states(stateOf(reference(), scan('1'), check('c', false)))['1']).toBe('voided by a recheck'))

  it('that pass later do not heal', () => {
    const state = stateOf(reference(), scan('1'), check('c', false), scan('2'), check('d', true))
    expect(states(state)).toMatchObject({ 1: 'voided by a recheck', 2: 'voided by a recheck' })
    expect(state.rechecks[0]?.voids).toEqual(['1', '2'])
  })

  it('judged again do not heal', () => {
    const state = stateOf(reference(), scan('1'), check('c', false), [rechecked('c', 'r', true)])
    expect(states(state)['1']).toBe('voided by a recheck')
  })

  it('count again after a new reference scan', () => {
    const state = stateOf(
      reference(),
      scan('1'),
      check('c', false),
      reference('s'),
      scan('2', {}, 's'),
      check('d', true, 's')
    )
    expect(states(state)).toMatchObject({ 1: 'voided by a recheck', 2: none })
  })

  it('on a later standardization say nothing about scans before it', () => {
    const state = stateOf(reference(), scan('1'), reference('s'), scan('2', {}, 's'), check('d', false, 's'))
    expect(states(state)).toMatchObject({ 1: `${none}?`, 2: 'voided by a recheck' })
  })

  it('of one probe do not close the scans of another', () => {
    const state = stateOf(reference(), reference('s'), scan('1'), scan('2', {}, 's'), check('c', true))
    expect(states(state)).toMatchObject({ 1: none, 2: `${none}?` })
  })

  it('that nobody judged close nothing and are named', () => {
    const state = stateOf(reference(), scan('1'), [kept('c', { of: 'recheck' })])
    expect(states(state)['1']).toBe(`${none}?`)
    expect(state.unjudged.map(({ file }) => file)).toEqual(['c.csv'])
  })

  it('follow the order of the recordings, not of the entries', () => {
    const all = [
      ...reference(),
      kept('h1', { of: 'hole', name: '1' }),
      kept('c', { of: 'recheck' }),
      kept('h2', { of: 'hole', name: '2' })
    ]
    const late = [rechecked('c', 'r', true), examined('h2', '2', 'r'), examined('h1', '1', 'r')]
    expect(states(stateOf(all, late))).toMatchObject({ 1: none, 2: `${none}?` })
  })

  it('know beforehand what they would void', () => {
    const rows = chainOfEntries('J', [
      opened('J', holes),
      ...reference(),
      ...scan('1'),
      ...scan('2'),
      kept('c', { of: 'recheck' })
    ])
    const { standardization } = rechecked('c', 'r', false)
    expect(voidsOf(rows, { recording: sha256('c'), standardization })).toEqual([sha256('h1'), sha256('h2')])
  })

  it('leave an indication found in a voided scan open', () => {
    const state = stateOf(
      ...[reference(), scan('1', { indications: [indication()] }, 'r', 'a'), check('c', false)],
      ...[reference('s'), scan('1', {}, 's', 'b'), check('d', true, 's')]
    )
    expect(states(state)['1']).toBe('undecided')
    expect(state.places[0]?.openFromVoided).toHaveLength(1)
  })

  it('do not save a scan whose reference scan comes later', () =>
    expect(states(stateOf(scan('1'), reference(), check('c', true)))['1']).toBe('not examined'))

  it('hold for a second standardization of the same reference recording', () => {
    const again = { ...standardized('r'), standardization: sha256('by method 2'), method: 2 }
    const redone = { ...examined('h1', '1', 'r', { method: 2 }), standardization: sha256('by method 2') }
    expect(states(stateOf(reference(), scan('1'), check('c', true), [again, redone]))['1']).toBe(none)
  })
})

describe('what is said beside a recording', () => {
  const told = (name: string, of: EntryOf<'recording-kept'>['of'], over: Partial<EntryOf<'recording-kept'>>) => ({
    ...kept(name, of),
    ...over
  })
  const hole = (name: string) => ({ of: 'hole' as const, name })
  const voided = (over: Partial<EntryOf<'recording-kept'>>, rules: Partial<EntryOf<'job-opened'>> = {}) => {
    const scans = [told('h1', hole('1'), over), examined('h1', '1', 'r', {})]
    const entries = [{ ...opened('J', holes), ...rules }, ...reference(), ...scan('2'), ...scans, ...check('c', true)]
    const [one] = replay(chainOfEntries('J', entries)).places
    const standing = one?.examinations[0]?.standing
    return standing?.standing === 'voided' ? standing.why : standing?.standing
  }
  const equipment = {
    ...{ instrument: 'I', probe: 'P', cable: 'C', drive: 'unknown', gain: 'unknown', filters: 'unknown' },
    entered_by: 'A'
  }

  it('asks for a recheck, as far as the technique does', () => {
    expect(voided({})).toBe('certain')
    expect(voided({ since: ['tape'] })).toBe('scanned after a change of tape without a recheck')
    expect(voided({ since: ['tape'] }, { rechecks: { after: ['drop'] } })).toBe('certain')
    expect(voided({ since: ['drop'] }, { rechecks: { after: ['drop'] } })).toBe(
      'scanned after a drop without a recheck'
    )
  })

  it('is seen where another person took it, or another part was used', () => {
    expect(voided({ examinedBy: 'Somebody' })).toBe('scanned after a change of person without a recheck')
    expect(voided({ equipment: { cable: 'D' } }, { equipment })).toBe(
      'scanned after a change of cable without a recheck'
    )
    expect(voided({ equipment: { cable: 'D' } })).toBe('certain')
    expect(voided({ equipment: { cable: 'unknown' } }, { equipment })).toBe('certain')
  })

  it('counts for the next scan where nobody judged the recording it was said of', () => {
    const tape = told('x', { of: 'recheck' }, { since: ['tape'] })
    const state = stateOf(reference(), [tape], scan('1'), check('c', true))
    expect(state.places[0]?.examinations[0]?.standing).toMatchObject({ standing: 'voided' })
  })

  it('with an interval needs its time', () => {
    expect(voided({}, { rechecks: { interval_min: 60 } })).toBe(
      'nobody knows how long after a good recheck it was scanned'
    )
  })
})

describe('what a recheck that failed leaves to be done', () => {
  const clean = [reference(), scan('1'), scan('2')] as const
  const closing: Entry = {
    ...{ kind: 'place-closed', version: 1, ...head(), signed: false, subject: { of: 'hole', name: '1' } }
  }
  const names = ({ redo }: JobState) => redo.map(({ place, scans }) => [place.name, scans.map(({ file }) => file)])

  it('is a list of places, until they are scanned again', () => {
    const failed = [...clean, check('c', false)]
    expect(names(stateOf(...failed))).toEqual([
      ['1', ['h1.csv']],
      ['2', ['h2.csv']]
    ])
    const again = [reference('s'), scan('1', {}, 's', 'h1b'), check('d', true, 's')]
    expect(names(stateOf(...failed, ...again))).toEqual([['2', ['h2.csv']]])
  })

  it('names places that had been closed on what is void now, and whether they were mended', () => {
    const corrected = (): Entry => ({
      ...{
        kind: 'corrected',
        version: 1,
        ...head(),
        corrects: 'h1 kept',
        reason: 'the tape had been changed before it'
      },
      becomes: { ...kept('h1', { of: 'hole', name: '1' }), id: 'h1 kept', since: ['tape'] } as never
    })
    const first = { ...kept('h1', { of: 'hole', name: '1' }), id: 'h1 kept' }
    const before = [reference(), [first, examined('h1', '1', 'r', {})], check('c', true), [closing]]
    expect(stateOf(...before).places[0]?.closed).toBeDefined()
    expect(stateOf(...before).nonconformances).toEqual([])
    const state = stateOf(...before, [corrected()], [examined('h1', '1', 'r', {})])
    expect(state.places[0]?.closed).toBeUndefined()
    expect(state.nonconformances).toMatchObject([
      { place: { name: '1' }, gone: { id: closing.id }, isMended: false, scans: [{ file: 'h1.csv' }] }
    ])
  })
})

describe('corrections', () => {
  const correct = (corrects: string, becomes: 'withdrawn' | Entry): Entry => ({
    ...{ kind: 'corrected', version: 1, corrects, reason: 'wrong hole' },
    ...head(),
    becomes: becomes as EntryOf<'corrected'>['becomes']
  })

  it('hold, and what was examined before them has to be examined again', () => {
    const [recording, examination] = scan('1') as [EntryOf<'recording-kept'>, Entry]
    const fixed = correct(recording.id, { ...recording, of: { of: 'hole', name: '2' } })
    const state = stateOf(reference(), [recording, examination, fixed], check('c', true))
    expect(states(state)).toMatchObject({ 1: 'not examined', 2: 'not examined' })
    const after = stateOf(reference(), [recording, examination, fixed, examined('h1', '2', 'r')], check('c', true))
    expect(states(after)).toMatchObject({ 1: 'not examined', 2: 'examined, no relevant indication' })
    expect(after.corrections).toHaveLength(1)
  })

  it('withdraw a confirmation', () => {
    const technique = sha256('technique')
    const stored: Entry = { kind: 'document-stored', version: 1, ...head(), document: technique, what: 'technique' }
    const confirmed: Entry = {
      ...{
        kind: 'technique-confirmed',
        version: 1,
        technique,
        name: 'B. Invented',
        level: 'III',
        on: '2026-03-13',
        signed: false
      },
      ...head()
    }
    expect(stateOf([stored, confirmed]).confirmed?.name).toBe('B. Invented')
    expect(stateOf([stored, confirmed, correct(confirmed.id, 'withdrawn')]).confirmed).toBeUndefined()
    const other: Entry = { ...stored, ...head(), document: sha256('revision 2') }
    expect(stateOf([stored, confirmed, other]).confirmed).toBeUndefined()
  })
})

describe('replay', () => {
  it('gives count and head of the chain', () => {
    const rows = chainOfEntries('J', [opened('J', holes), ...reference()])
    expect(replay(rows)).toMatchObject({ count: 3, head: rows[2]?.hash })
  })
  it('throws for what is no record', () => expect(() => replay([])).toThrow('opening'))
})

describe('zones that the technique asks for', () => {
  it('are not examined where no scan has them, and keep their place open', () => {
    const places = opened('Z', ['1']).places.map((place) => ({ ...place, zones: ['mid-bore', 'countersink'] }))
    const rows = chainOfEntries('Z', [
      { ...opened('Z', ['1']), places },
      ...[kept('ref Z', { of: 'reference' as const }), standardized('ref Z')],
      ...[kept('scan Z', { of: 'hole' as const, name: '1' }), examined('scan Z', '1', 'ref Z')],
      ...[kept('check Z', { of: 'recheck' as const }), rechecked('check Z', 'ref Z', true)]
    ])
    const place = replay(rows).places[0]!
    expect(place.state).toBe('not examined')
    expect(place.missing).toEqual([
      { zone: 'countersink', why: ['asked for by the technique, and no scan examines it'] }
    ])
    expect(openReasons(place, {})).toEqual(['not examined: countersink'])
  })
})
