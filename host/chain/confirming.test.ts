import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { type HoleSheet, sheetOf } from '@trueloop/job/plan'
import { type EntryOf, replay } from '@trueloop/job/record'
import { demoRecordings, demoSheet, generate, type HoleScene, writeWave } from '@trueloop/job/rehearse'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { type Archive, openArchive } from '../archive/index.ts'
import { sha256 } from '../hash/index.ts'
import { checkJob, openJob, reportHtml, runChain, summaryOf } from './index.ts'
import { got } from './testing/shop.ts'

/** Oracle: the generator's own truth: one and the same wall, scanned again and turned the other way round. */

let folder = ''
let archive: Archive

beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), 'trueloop-confirming-'))
  archive = got(await openArchive(join(folder, 'archive')))
})

afterEach(async () => {
  await archive.close()
  rmSync(folder, { recursive: true })
})

const scenes = new Map([...demoRecordings(1)].map(({ file, scene }) => [file, scene]))

function write(file: string, of: string, { seed, sense = 1 }: { seed: number; sense?: 1 | -1 }): void {
  const scene = scenes.get(of)!
  const turned: HoleScene = { ...scene, motion: { ...scene.motion, sense } }
  const { rate_Hz, x, y, index } = generate(turned, seed)
  writeFileSync(join(folder, file), Buffer.concat([...writeWave(rate_Hz, [x, y, index], 'float32')]))
}

const cracked = 'hole-P02.wav'

function confirmingSheet(change: (sheet: HoleSheet) => HoleSheet = (sheet) => sheet): HoleSheet {
  write('r.wav', 'reference-start.wav', { seed: 1 })
  write('a.wav', cracked, { seed: 2 })
  write('b.wav', cracked, { seed: 3 })
  write('c.wav', 'reference-start.wav', { seed: 4 })
  write('r-other.wav', 'reference-start.wav', { seed: 5, sense: -1 })
  write('a-other.wav', cracked, { seed: 6, sense: -1 })
  write('c-other.wav', 'reference-start.wav', { seed: 7, sense: -1 })
  const scan = { of: 'hole' as const, hole: 'P02' }
  const set_up = 'other sense' as const
  const sheet = change({
    ...demoSheet(),
    recordings: [
      { of: 'reference', file: 'r.wav' },
      { ...scan, file: 'a.wav' },
      { ...scan, file: 'b.wav', confirms: 'a.wav', after: 'cleaned and entered again' },
      { of: 'recheck', file: 'c.wav' },
      { of: 'reference', file: 'r-other.wav', set_up },
      { ...scan, file: 'a-other.wav', confirms: 'P02/1', after: 'other sense' },
      { of: 'recheck', file: 'c-other.wav', set_up }
    ]
  })
  const reading = sheetOf(sheet)
  if ('refusals' in reading) throw new Error(reading.refusals.map(({ code, found }) => `${code}: ${found}`).join('\n'))
  return reading.sheet as HoleSheet
}

const stateOf = async (sheet: HoleSheet) => replay(got(await archive.entries(sheet.job.id)))

describe('a hole scanned again, and in the other sense', () => {
  it('has its crack confirmed by all three scans, at one place', async () => {
    const sheet = confirmingSheet()
    const { refusals, outcomes } = await runChain({ sheet, folder, archive })
    expect(refusals).toEqual([])
    expect(outcomes.filter((one) => one.did === 'recheck')).toMatchObject([{ passed: true }, { passed: true }])
    const state = await stateOf(sheet)
    const place = state.places.find(({ place: { name } }) => name === 'P02')!
    expect(place.examinations.map(({ refusals: codes }) => codes)).toEqual([[], [], []])
    const confirmed = place.joined.filter(({ standing }) => standing === 'confirmed')
    expect(confirmed[0]?.seen.map(({ file, after }) => [file, after])).toEqual([
      ['a.wav', undefined],
      ['b.wav', 'cleaned and entered again'],
      ['a-other.wav', 'other sense']
    ])
    const kept = state.recordings.filter(({ confirms }) => confirms !== undefined)
    const [first] = state.recordings.filter(({ file }) => file === 'a.wav')
    expect(kept.map(({ confirms }) => confirms)).toEqual([{ recording: first?.sha256 }, { indication: 'P02/1' }])
    const row = summaryOf(state).places.find(({ name }) => name === 'P02')
    expect(row?.open.join()).toContain('confirmed, in 3 of 3 scans that looked there')
    const html = got(await reportHtml(archive, sheet.job.id))
    expect(html).toContain('Confirmed, in 3 of 3 scans that looked there.')
    expect(html).toContain('a-other.wav: other sense; it is to confirm P02/1. Its angles count against the sense')
    const verification = got(await checkJob(archive, sheet.job.id, { again: true }))
    expect(verification).toMatchObject({ intact: { holds: true }, replayed: { holds: true, count: 3 } })
  })

  it('can not be closed while its crack waits for a person', async () => {
    const sheet = confirmingSheet()
    await runChain({ sheet, folder, archive })
    const { count } = await stateOf(sheet)
    const entry: EntryOf<'place-closed'> = {
      ...{ kind: 'place-closed', version: 1, id: 'close P02', subject: { of: 'hole', name: 'P02' }, signed: false },
      at: { time: '2026-03-14T12:00:00Z', known: 'job sheet' },
      by: { kind: 'person', name: 'B' }
    }
    const answer = await archive.append(sheet.job.id, count, [entry])
    expect(answer).toMatchObject({ code: 'record/place-open' })
    expect((await stateOf(sheet)).count).toBe(count)
  })
})

describe('what a sheet says beside its scans', () => {
  const ratio = {
    trueloop: 'response-ratio/1' as const,
    ...{ name: 'corner cracks', kinds: ['corner' as const], probe_type: 'differential', cracks: 14 },
    ...{ frequency_kHz: { least: 400, most: 600 }, depth_mm: { least: 0.3, most: 1.4 }, source: 'report 12' },
    approved: { by: 'B', level: 'III' as const, on: '2026-03-14' },
    ...{ ratio: 0.74, spread: 0.06 }
  }
  const some = (sheet: HoleSheet): HoleSheet => ({ ...sheet, recordings: sheet.recordings.slice(0, 2) })
  const withRatio = (sheet: HoleSheet): HoleSheet => ({
    ...some(sheet),
    response_ratios: [{ ...ratio, metal: sheet.technique.metal }]
  })

  it('keeps documents by their hash, and examines again where they change', async () => {
    const plain = confirmingSheet(some)
    await runChain({ sheet: plain, folder, archive })
    const sheet = confirmingSheet(withRatio)
    const { outcomes } = await runChain({ sheet, folder, archive })
    expect(outcomes.map(({ did, before }) => [did, before])).toEqual([
      ['standardized', true],
      ['examined', false]
    ])
    const state = await stateOf(sheet)
    const [stored] = state.documents.filter(({ what }) => what === 'response ratio')
    expect(stored).toMatchObject({ name: 'corner cracks' })
    const { text } = got(await archive.document(stored!.document))
    expect(JSON.parse(text)).toEqual(sheet.response_ratios?.[0])
    expect(sha256(text)).toBe(stored?.document)
    const [scan] = state.places.find(({ place }) => place.name === 'P02')!.examinations
    // applied or held back with its reason: the sizes speak of it
    expect(got(await archive.document(scan!.examination)).text).toMatch(/response ratio/)
    const verification = got(await checkJob(archive, sheet.job.id, { again: true }))
    expect(verification).toMatchObject({ intact: { holds: true }, replayed: { holds: true } })
    expect(got(await openJob({ sheet, folder, archive })).added).toEqual([])
  })

  it('records what became of the magnetism of a hole, and its heat treatment', async () => {
    const sheet = confirmingSheet((one) => ({
      ...some(one),
      holes: one.holes.map((hole) => ({
        ...hole,
        demagnetized: { by: 'A', on: '2026-03-14' },
        heat_treatment: 'H1025'
      }))
    }))
    got(await openJob({ sheet, folder, archive }))
    expect((await stateOf(sheet)).opened.places[0]).toMatchObject({
      demagnetized: { by: 'A', on: '2026-03-14' },
      heat_treatment: 'H1025'
    })
  })
})
