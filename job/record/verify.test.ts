import { refuser } from '@trueloop/ground/refusal'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { Examination } from '../examine/index.ts'
import { canonical } from './canonical.ts'
import { chainHash, type EntryRow } from './chain.ts'
import { differences } from './differences.ts'
import type { EntryOf } from './kinds.ts'
import { findings, outcomeOf } from './outcome.ts'
import { chainOfEntries, examined, kept, opened, rechecked, sha256, standardized } from './testing/index.ts'
import { type VerifyPorts, verify } from './verify.ts'

/** Made by hand, of a hole that never was. */
const examination: Examination = {
  kind: 'examination',
  version: 1,
  method: 1,
  application: 'fastener hole',
  subject: '1',
  amplitudeUnit: 'notch',
  recording: sha256('h1'),
  standardization: sha256('standardization of r'),
  position: { axial: 'entry and exit edges', axialUncertainty_m: 0.0002, angle: 'relative angle' },
  zones: [{ zone: 'mid-bore', z0_m: 0, z1_m: 0.009, state: 'examined', covered: 1, why: [] }],
  coverage: { samples: 5000, revolutions: 40, revolutionsInMetal: 36, contact: [] },
  dropped: [],
  indications: [],
  refusals: [],
  notes: []
}

const entry: EntryOf<'examined'> = { ...examined('h1', '1', 'r'), ...outcomeOf(examination, sha256) }
const entries = [
  opened('J', ['1', '2']),
  kept('r', { of: 'reference' }),
  standardized('r'),
  kept('h1', { of: 'hole', name: '1' }),
  entry,
  kept('c', { of: 'recheck' }),
  rechecked('c', 'r', true)
] as const
const rows = chainOfEntries('J', entries)
const end = { count: rows.length, head: rows.at(-1)?.hash ?? '' }
const documents = new Map([[entry.examination, canonical(examination)]])

const ports: VerifyPorts = {
  rows,
  hash: sha256,
  kept: end,
  original: async (name) => name,
  document: async (name) => documents.get(name)
}
const intact = async (over: Partial<VerifyPorts>) => (await verify({ ...ports, ...over })).intact
const placesOf = async (over: Partial<VerifyPorts>) => (await intact(over)).faults.map(({ place }) => place)

describe('an entry of an earlier program', () => {
  const found = {
    ...{ id: '1/1', zone: 'mid-bore', layer: 1, place: 'mid-bore', amplitude: 0.7, matched: 0.7, phase_rad: 1 },
    ...{ lobeOrder: 1, angle_rad: 2, z_m: 0.004, z0_m: 0.003, z1_m: 0.005, ruler: 20, revolutions: 5 },
    ...{ signalToNoise: 9, crossedAlarm: true, class: 'relevant', cause: 'crack', evidence: [] },
    size: { depth: 'between', extent: '1 mm', withheld: [] },
    ...{ proposal: 'a person decides', snippet: { step: 1, stepUnit: 'rad', x: [], y: [], along: [], alongFrom: 0 } }
  } as unknown as Examination['indications'][number]
  const document: Examination = { ...examination, indications: [found] }
  const told = outcomeOf(document, sha256)
  const withEntry = (indications: typeof told.indications) => {
    const all = chainOfEntries('J', [...entries.slice(0, 4), { ...entry, ...told, indications }, ...entries.slice(5)])
    const [last] = all.slice(-1)
    const text = async (name: string) => (name === told.examination ? canonical(document) : undefined)
    return placesOf({ rows: all, kept: { count: all.length, head: last!.hash }, document: text })
  }

  it('does not lack what that program did not write', async () => {
    const { cause: _, angle_rad: __, z_m: ___, z0_m: ____, z1_m: _____, ...earlier } = told.indications[0]!
    expect(await withEntry(told.indications)).toEqual([])
    expect(await withEntry([earlier])).toEqual([])
    expect(await withEntry([{ ...earlier, class: 'false' }])).toEqual(['entry 4, indications[0].class'])
    expect(await withEntry([{ ...told.indications[0]!, angle_rad: 3 }])).toEqual(['entry 4, indications[0].angle_rad'])
  })
})

describe('intact', () => {
  it('holds for what was written', async () =>
    expect(await intact({})).toEqual({ holds: true, faults: [], entriesSincePrinted: 0 }))

  it('finds any single changed byte of any entry, at its place', async () => {
    const columns = ['id', 'kind', 'body', 'previous', 'hash'] as const
    await fc.assert(
      fc.asyncProperty(
        fc.nat(rows.length - 1),
        fc.constantFrom(...columns),
        fc.nat(),
        fc.integer({ min: 1, max: 127 }),
        async (at, column, place, change) => {
          const spoiled = rows.map((row, index) =>
            index === at ? { ...row, [column]: flipped(row[column], place, change) } : row
          )
          const found = await intact({ rows: spoiled })
          expect(found.holds).toBe(false)
          expect(found.faults[0]?.place).toBe(`entry ${at}`)
        }
      ),
      { seed: 7, numRuns: 400 }
    )
  })

  it.each(rows.map(({ seq }) => seq))('finds another number or version of entry %d', async (at) => {
    const spoil = (over: Partial<EntryRow>) => rows.map((row, index) => (index === at ? { ...row, ...over } : row))
    expect(await placesOf({ rows: spoil({ seq: at + 1 }) })).toContain(`entry ${at}`)
    expect(await placesOf({ rows: spoil({ version: 2 }) })).toContain(`entry ${at}`)
  })

  it('finds an entry that was removed', async () => {
    for (const at of rows.keys()) {
      const places = await placesOf({ rows: rows.toSpliced(at, 1) })
      expect(places[0]).toBe(at === rows.length - 1 ? `after entry ${at - 1}` : `entry ${at}`)
    }
  })

  it('finds two entries that changed places', async () => {
    for (let at = 0; at + 1 < rows.length; at++) {
      const [one, other] = [rows[at], rows[at + 1]] as [EntryRow, EntryRow]
      expect((await placesOf({ rows: rows.toSpliced(at, 2, other, one) }))[0]).toBe(`entry ${at}`)
    }
  })

  it('finds an entry that was appended, also with the right hash, by the end kept beside the chain', async () => {
    const forged = { ...rows[6], seq: 7, previous: end.head, hash: '' } as EntryRow
    const right = { ...forged, hash: chainHash(sha256, forged) }
    expect(await placesOf({ rows: [...rows, forged] })).toContain('entry 7')
    expect(await placesOf({ rows: [...rows, right] })).toEqual(['entry 7'])
  })

  it('finds a chain written anew, by the head that a report has printed', async () => {
    const anew = chainOfEntries('J', [opened('J', ['1']), ...entries.slice(1)])
    const kept_ = { count: anew.length, head: anew.at(-1)?.hash ?? '' }
    expect(await placesOf({ rows: anew, kept: kept_, printed: end })).toContain('entry 6')
    expect(await placesOf({ rows: anew, kept: kept_ })).not.toContain('entry 6')
  })

  it('counts what came after a printed report as no fault', async () => {
    const printed = { count: 3, head: rows[2]?.hash ?? '' }
    expect(await intact({ printed })).toEqual({ holds: true, faults: [], entriesSincePrinted: 4 })
  })

  it('finds an original that was changed or is gone', async () => {
    const [name] = [sha256('h1')]
    const changed = await intact({ original: async (one) => (one === name ? sha256('other') : one) })
    expect(changed.faults).toEqual([
      {
        place: `original ${name} (h1.csv), kept by entry 3`,
        found: `bytes whose hash is ${sha256('other')}`,
        needed: name
      }
    ])
    expect((await intact({ original: async () => undefined })).faults).toHaveLength(3)
  })

  it('finds a document that was changed or is gone', async () => {
    const spoiled = canonical({ ...examination, method: 2 })
    expect(await placesOf({ document: async () => spoiled })).toEqual([`document ${entry.examination}, of entry 4`])
    expect(await placesOf({ document: async () => undefined })).toHaveLength(1)
  })

  it('finds an entry that says something else than its examination', async () => {
    const lie = chainOfEntries('J', [...entries.slice(0, 4), { ...entry, id: 'lie', zones: [] }])
    const places = await placesOf({ rows: lie, kept: { count: 5, head: lie.at(-1)?.hash ?? '' } })
    expect(places).toEqual(['entry 4, zones[0]'])
  })
})

describe('replayed', () => {
  const again = (now: Examination) => verify({ ...ports, reexamine: async () => now })

  it('holds for equal findings, whatever the picture', async () => {
    const picture = { rows: 1, columns: 1, rowFrom: 0, rowStep: 1, values: [0] }
    const { replayed, anotherMethod } = await again({ ...examination, picture })
    expect(replayed).toEqual({ holds: true, count: 1, faults: [], asked: true })
    expect(anotherMethod).toEqual([])
  })

  it('does not hold for findings that differ in the last bit by the same method', async () => {
    const { replayed, intact: whole } = await again({
      ...examination,
      position: { ...examination.position, axialUncertainty_m: 0.0002 + 2 ** -65 }
    })
    expect(whole.holds).toBe(true)
    expect(replayed.holds).toBe(false)
    expect(replayed.faults[0]?.place).toBe('entry 4, examination of hole 1')
    expect(replayed.faults[0]?.found).toContain('1 differences, the first at position.axialUncertainty_m')
  })

  it('is not what happens when the method is another: differences are listed, and are no fault', async () => {
    const { replayed, anotherMethod } = await again({ ...examination, method: 2, notes: ['new'] })
    expect(replayed).toEqual({ holds: true, count: 0, faults: [], asked: true })
    expect(anotherMethod).toEqual([
      {
        seq: 4,
        recorded: 1,
        now: 2,
        differences: [
          { path: 'method', was: '1', now: '2' },
          { path: 'notes[0]', was: 'nothing', now: '"new"' }
        ]
      }
    ])
  })

  it('does not hold where it can not be examined again', async () => {
    const refused = refuser(['scan/empty'])('scan/empty', { found: 'a', needed: 'b', remedy: 'c' })
    const { replayed } = await verify({ ...ports, reexamine: async () => refused })
    expect(replayed.holds).toBe(false)
    expect(replayed.faults[0]?.found).toContain('scan/empty')
  })

  it('is not claimed where it was not asked for', async () => {
    expect((await verify(ports)).replayed).toEqual({ holds: false, count: 0, faults: [], asked: false })
  })
})

describe('differences', () => {
  it.each([
    [{ a: 1 }, { a: 1 }, []],
    [{ a: [1, 2] }, { a: [1, 3, 4] }, ['a[1]', 'a[2]']],
    [{ a: { b: 1 } }, {}, ['a']],
    [[], {}, ['the whole']],
    [1, 2, ['the whole']],
    [{ a: undefined }, {}, []]
  ])('of %j and %j', (was, now, paths) => expect(differences(was, now).map(({ path }) => path)).toEqual(paths))
})

describe('findings', () => {
  it('are the examination without its picture', () => {
    const picture = { rows: 1, columns: 1, rowFrom: 0, rowStep: 1, values: [0] }
    expect(findings({ ...examination, picture })).toEqual(examination)
  })
})

function flipped(text: string, place: number, change: number): string {
  const at = place % text.length
  const other = String.fromCharCode(text.charCodeAt(at) ^ change)
  return text.slice(0, at) + other + text.slice(at + 1)
}
