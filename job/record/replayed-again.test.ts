import { isRefusal } from '@trueloop/ground/refusal'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { EntryRow } from './chain.ts'
import { seenAsOf } from './decided.ts'
import type { Entry } from './kinds.ts'
import { type Replayed, replay, replayFrom } from './replay.ts'
import { isSame } from './same.ts'
import type { PlaceState } from './state.ts'
import {
  chainOfEntries,
  examined,
  head,
  indication,
  invent,
  kept,
  largeJob,
  opened,
  personStored,
  rechecked,
  sha256,
  standardized
} from './testing/index.ts'
import { Device } from './testing/merging.ts'

/** A record replayed from what was known of it before. Oracle: `replay` of the same rows, which knows nothing. */

const [two, four] = [invent('B. Two'), invent('D. Four')]
const holes = ['1', '2', '3']

const begun = (): Device =>
  new Device([two, four]).add(
    ...[{ ...opened('J', holes), signing: 'required' as const }, ...[two, four].map(personStored)],
    ...[kept('r', { of: 'reference' }), standardized('r')]
  )

/** One thing that happens on a device; refused where the record says so. `pick` chooses among what there is. */
interface Step {
  readonly what: keyof typeof happens
  readonly hole: string
  readonly pick: number
}

interface Happening extends Step {
  readonly device: Device
  readonly at: number
  readonly place: PlaceState
}

const said = ({ device, pick, hole }: Happening, draft: object): readonly Entry[] => [
  device.signed(pick % 3 === 0 ? four : two, { subject: { of: 'hole', name: hole }, ...draft })
]

const among = <T>(all: readonly T[], pick: number): T | undefined => all[pick % Math.max(1, all.length)]
const entriesOf = ({ rows }: Device): readonly Entry[] => rows.map(({ body }) => JSON.parse(body) as Entry)
const prepared = { deburred: 'yes', visual: 'clean', cleaned: { by: 'A', on: '2026-03-14' }, signed: false } as const

const found = (hole: string, pick: number) =>
  [0, 1].slice(0, pick % 3).map((one) =>
    indication({
      ...{ id: `${hole}/${one}`, angle_rad: 1 + 2 * one, z_m: 3e-3, crossedAlarm: pick % 2 === 0 },
      class: (['relevant', 'undecided', 'nonrelevant'] as const)[pick % 3]!
    })
  )

const happens = {
  scan: ({ hole, pick, at }: Happening) => [
    kept(`scan ${at}`, { of: 'hole', name: hole }),
    examined(`scan ${at}`, hole, 'r', { indications: found(hole, pick) })
  ],
  'scan that nobody examines': ({ hole, at }: Happening) => [kept(`scan ${at}`, { of: 'hole', name: hole })],
  check: ({ pick, at }: Happening) => [
    kept(`check ${at}`, { of: 'recheck' }),
    rechecked(`check ${at}`, 'r', pick % 4 !== 0)
  ],
  reference: ({ at }: Happening) => [kept(`r ${at}`, { of: 'reference' }), standardized(`r ${at}`)],
  class: (step: Happening) => {
    const one = among(step.place.joined, step.pick)
    if (one === undefined) return []
    const seen = seenAsOf(one, step.place.examinations)
    return said(step, { kind: 'interpreted', seen, class: step.pick % 2 === 0 ? 'relevant' : 'false', reason: 'seen' })
  },
  disposition: (step: Happening) => {
    const seen = step.place.joined.flatMap((one) => seenAsOf(one, step.place.examinations))
    const disposition = among(['no recordable indication', 'reject', 'refer'], step.pick)
    return said(step, { kind: 'disposed', disposition, seen, reason: 'seen' })
  },
  look: (step: Happening) => {
    const of = step.place.disposition?.id ?? step.place.joined.find(({ decided }) => decided)?.decided?.id
    return of === undefined ? [] : said(step, { kind: 'second-look', of, agrees: step.pick % 2 === 0, reason: 'seen' })
  },
  note: (step: Happening) => said(step, { kind: 'noted', text: `note ${step.at}` }),
  close: (step: Happening) => said(step, { kind: 'place-closed' }),
  leave: (step: Happening) => said(step, { kind: 'left-out', reason: 'no access' }),
  prepare: ({ hole, pick }: Happening) => [
    { kind: 'place-prepared', version: 1, ...head(), subject: { of: 'hole', name: hole }, ...prepared } as Entry,
    ...(pick % 2 === 0 ? [kept(`p ${head().id}`, { of: 'hole', name: hole })] : [])
  ],
  withdraw: (step: Happening) => {
    const own = entriesOf(step.device).filter(({ by, kind }) => by.name === two.row.name && kind !== 'document-stored')
    const one = among(own, step.pick)
    if (one === undefined) return []
    const draft = { kind: 'corrected', corrects: one.id, reason: 'the wrong place', becomes: 'withdrawn' }
    return [step.device.signed(two, draft)]
  },
  'other hole': ({ device, hole, pick }: Happening) => {
    const one = among(
      entriesOf(device).filter(({ kind }) => kind === 'recording-kept'),
      pick
    )
    const becomes = { ...one, of: { of: 'hole', name: hole } }
    return one === undefined ? [] : [correcting(device, one.id, becomes)]
  },
  merge: ({ device, at, hole }: Happening) => {
    const other = device.copy()
    const scan = [kept(`there ${at}`, { of: 'hole', name: hole }), examined(`there ${at}`, hole, 'r')]
    const note = { kind: 'noted', subject: { of: 'hole', name: hole }, text: `there ${at}` }
    if ([other.try(scan), other.try([other.signed(four, note)]), device.try([keptHere(at)])].some(isRefusal)) return []
    return device.merging(other, two)
  }
} as const

const keptHere = (at: number): Entry => kept(`here ${at}`, { of: 'hole', name: '1' })

const correcting = (device: Device, corrects: string, becomes: object): Entry =>
  device.signed(two, {
    kind: 'corrected',
    corrects,
    reason: 'another hole',
    becomes: JSON.parse(JSON.stringify(becomes))
  })

function grow(steps: readonly Step[]): Device {
  const device = begun()
  for (const [at, step] of steps.entries()) {
    const place = replay(device.rows).places.find((one) => one.place.name === step.hole)!
    const entries = happens[step.what]({ ...step, device, at, place })
    // what the record refuses has not happened
    if (entries.length > 0) device.try(entries)
  }
  return device
}

/** Replays cut after cut, each from the one before it. */
function compare(rows: readonly EntryRow[], cuts: readonly number[]): void {
  let before: Replayed | undefined
  for (const count of cuts) {
    before = replayFrom(rows.slice(0, count), before)
    const whole = replay(rows.slice(0, count))
    if (JSON.stringify(before.state) !== JSON.stringify(whole)) expect(before.state).toEqual(whole)
  }
}

const oneByOne = (rows: readonly EntryRow[], from: number): readonly number[] =>
  rows.slice(from).map((_, at) => from + at + 1)

const step = fc.record({
  what: fc.constantFrom(...(Object.keys(happens) as (keyof typeof happens)[])),
  hole: fc.constantFrom(...holes),
  pick: fc.nat({ max: 11 })
})
const shares = fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { minLength: 1, maxLength: 6 })

describe('a record replayed from what was known of it', () => {
  it('says what a replay of all of it says, wherever it was cut, longer or shorter, one after the other', () => {
    const done = new Set<string>()
    fc.assert(
      fc.property(fc.array(step, { minLength: 5, maxLength: 60 }), shares, (steps, cuts) => {
        const { rows } = grow(steps)
        for (const { kind, body } of rows) done.add(body.includes('"another hole"') ? 'to another hole' : kind)
        const counts = cuts.map((share) => 1 + Math.floor(share * (rows.length - 1)))
        compare(rows, [...counts, ...oneByOne(rows, counts.at(-1) as number)])
      }),
      { numRuns: 200, seed: 7 }
    )
    // the steps have led to all of these
    expect([...done]).toEqual(
      expect.arrayContaining([
        ...['interpreted', 'disposed', 'second-look', 'place-closed', 'left-out', 'noted', 'corrected', 'merged'],
        'to another hole',
        ...['place-prepared', 'recheck', 'examined', 'standardized']
      ])
    )
  }, 120_000)

  it('is not of another record that begins otherwise, or goes on otherwise', () => {
    const one = begun().add(
      kept('a', { of: 'hole', name: '1' }),
      examined('a', '1', 'r', { indications: found('1', 2) })
    )
    const other = begun().add(kept('b', { of: 'hole', name: '2' }), examined('b', '2', 'r'))
    const alike = one.copy().add(one.signed(two, { kind: 'noted', subject: { of: 'hole', name: '1' }, text: 'here' }))
    const apart = one.copy().add(one.signed(two, { kind: 'noted', subject: { of: 'hole', name: '1' }, text: 'there' }))
    for (const [from, rows] of [
      [other.rows, one.rows],
      [alike.rows, apart.rows]
    ] as const)
      expect(replayFrom(rows, replayFrom(from)).state).toEqual(replay(rows))
  })

  it('makes only the states anew of places of which something new was said', () => {
    const { entries } = largeJob('J', 100)
    const rows = chainOfEntries('J', entries)
    const before = replayFrom(rows.slice(0, -6))
    const after = replayFrom(rows, before)
    const anew = after.state.places.filter((place, at) => place !== before.state.places[at])
    // the recheck at the end closes the second fifty; the first fifty stand as they stood
    expect(anew.length).toBeGreaterThan(0)
    expect(anew.every(({ place }) => Number(place.name.slice(2)) > 50)).toBe(true)
    expect(replayFrom(rows, after)).toBe(after)
  })
})

describe('values that say the same', () => {
  it('are the same to the last part, and nothing else is', () => {
    const value = { a: [1, { b: 'c' }], d: undefined, e: sha256 }
    expect(isSame(value, { a: [1, { b: 'c' }], d: undefined, e: sha256 })).toBe(true)
    const others = [
      { ...value, a: [1, { b: 'd' }] },
      { ...value, e: () => '' },
      { a: value.a, e: sha256 },
      { a: value.a, x: undefined, e: sha256 },
      { ...value, a: { 0: 1, 1: { b: 'c' } } },
      null,
      1
    ]
    expect(others.map((other) => isSame(value, other) || isSame(other, value))).toEqual(others.map(() => false))
  })
})
