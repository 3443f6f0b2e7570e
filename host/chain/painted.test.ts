import { mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Examination } from '@trueloop/job/examine'
import { type Sheet, sheetOf } from '@trueloop/job/plan'
import { replay } from '@trueloop/job/record'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { needsOutside } from '../../house/outside.ts'
import { type Archive, openArchive } from '../archive/index.ts'
import { checkJob, examineAdded, reportHtml, runChain } from './index.ts'
import { got } from './testing/shop.ts'

/** Oracle: the truth of the trial's welds, which another program has simulated; the record, replayed and verified. */

let home = ''
let archive: Archive
beforeEach(async () => {
  home = mkdtempSync(join(tmpdir(), 'trueloop-painted-'))
  archive = got(await openArchive(join(home, 'archive')))
})
afterEach(async () => {
  await archive.close()
  rmSync(home, { recursive: true })
})

const shims = [0, 0.5, 1, 1.5, 2]
const job = 'PAINTED-1'

const sheet = (welds: readonly string[], recordings: readonly object[]): Sheet => {
  const reading = sheetOf({
    trueloop: 'job/1',
    job: { id: job, component: 'simulated weld', opened: '2026-03-14', demonstration: true },
    people: [{ name: 'B', level: 'III' }],
    examined_by: 'B',
    confirmed: { by: 'B', level: 'III', on: '2026-03-14' },
    equipment: {
      ...{ instrument: 'I', probe: 'W', cable: 'C', drive: 'D', gain: 'unchanged', filters: 'none', entered_by: 'B' }
    },
    technique: {
      ...{ application: 'weld', procedure: { id: 'P', revision: 'A' }, metal: 'carbon steel', frequency_kHz: 100 },
      ...{ field_width_mm: 2.4, max_speed_mm_s: 60, alarm: { slot: '0.5 mm', share: 0.5 }, min_signal_to_noise: 3 },
      ...{ largest_coating_mm: 2, recheck_allowance: { amplitude: 0.2, angle_deg: 10 } }
    },
    reference_standard: {
      ...{ id: 'block', metal: 'carbon steel' },
      slots: [0.5, 1, 2].map((depth_mm, k) => ({
        ...{ id: `${depth_mm.toFixed(1)} mm`, depth_mm, position_mm: 30 * (k + 1) }
      }))
    },
    tracks: welds.map((id) => ({ id, length_mm: 400 })),
    recordings
  })
  if ('refusals' in reading) throw new Error(JSON.stringify(reading.refusals))
  return reading.sheet
}

const block = shims.map((shim_mm) => ({ of: 'reference', shim_mm, file: `block-shim-${shim_mm.toFixed(1)}.csv` }))
const weldOf = (number: string) => [
  { of: 'parent', track: `weld-${number}`, file: `parent-${number}.csv` },
  { of: 'track', track: `weld-${number}`, file: `weld-${number}.csv` }
]

const state = async () => replay(got(await archive.entries(job)))
const examinationOf = async (track: string): Promise<Examination> => {
  const place = (await state()).places.find(({ place: { name } }) => name === track)
  return JSON.parse(got(await archive.document(place?.examinations.at(-1)?.examination ?? '')).text) as Examination
}

needsOutside('trial/weld-toe', 'welds through paint', (folder) => {
  interface Truth {
    readonly flaws: readonly { readonly start_mm: number; readonly end_mm: number; readonly depth_mm: number }[]
    readonly coating_mm: { readonly median: number }
  }
  const truth = JSON.parse(readFileSync(join(folder, 'truth.json'), 'utf8')) as Record<string, Truth>

  it('go through the chain from the block under its shims to findings under the coating met, and again to the bit', async () => {
    const whole = sheet(
      ['weld-04'],
      [...block, ...weldOf('04'), { of: 'recheck', file: 'block-shim-0.0.csv' }].slice(0, 7)
    )
    const { outcomes, refusals } = await runChain({ sheet: whole, folder, archive })
    expect(refusals).toEqual([])
    expect(outcomes.map(({ did }) => did)).toEqual([...block.map(() => 'standardized'), 'parent metal', 'examined'])
    const { standardizations, unjudged } = await state()
    expect(standardizations).toHaveLength(1)
    expect(standardizations[0]?.shims?.map(({ shim_mm }) => shim_mm)).toEqual(shims)
    expect(unjudged).toEqual([])
    const { indications, coating } = await examinationOf('weld-04')
    const { flaws, coating_mm } = truth['weld-04'] as Truth
    expect(coating?.basis).toBe('measured')
    expect(coating?.parentWhy).toBe('recorded')
    expect(Math.abs((coating?.apparent?.medianOfSamples_mm ?? 0) - coating_mm.median)).toBeLessThan(0.05)
    const [flaw] = flaws
    const found = indications.find(({ class: is }) => is === 'relevant')
    expect(Math.abs(1e3 * Number(found?.z0_m) - (flaw?.start_mm ?? 0))).toBeLessThan(1.5)
    expect(Math.abs(1e3 * Number(found?.z1_m) - (flaw?.end_mm ?? 0))).toBeLessThan(1.5)
    const verified = got(await checkJob(archive, job, { again: true }))
    expect(verified).toMatchObject({ intact: { holds: true }, replayed: { holds: true, count: 1 } })
    const { count } = await state()
    const again = await runChain({ sheet: whole, folder, archive })
    expect(again.refusals).toEqual([])
    expect(again.outcomes.every(({ before }) => before)).toBe(true)
    expect((await state()).count).toBe(count)
    const report = got(await reportHtml(archive, job)) ?? ''
    const said = ['Weld map', 'Track weld-04: relevant, not decided', 'Slots under shims', 'absolute channel']
    expect(said.filter((words) => !report.includes(words))).toEqual([])
    expect(report.includes('Hole map')).toBe(false)
  }, 60_000)

  it('take in parent metal and track one by one, as a page or a watched folder brings them', async () => {
    await runChain({ sheet: sheet(['weld-04'], block), folder, archive })
    const added = async (file: string, of: Parameters<typeof examineAdded>[0]['of']) => {
      const original = got(await archive.keepOriginal(join(folder, file)))
      return got(await examineAdded({ archive, job, original, file, of }))?.outcome
    }
    expect(await added('parent-04.csv', { of: 'parent', track: 'weld-04' })).toMatchObject({ did: 'parent metal' })
    const scanned = await added('weld-04.csv', { of: 'track', name: 'weld-04' })
    expect(scanned).toMatchObject({ did: 'examined' })
    expect((await examinationOf('weld-04')).coating?.parentWhy).toBe('recorded')
    expect(got(await checkJob(archive, job, { again: true })).replayed).toMatchObject({ holds: true, count: 1 })
  }, 60_000)

  it('rely on a set without a shim that misses: the whole set is refused, at the line of its last run', async () => {
    const wrong = block.map((one, k) => (k === 1 ? { ...one, shim_mm: 1 } : k === 2 ? { ...one, shim_mm: 0.5 } : one))
    const { refusals } = await runChain({ sheet: sheet(['weld-04'], wrong), folder, archive })
    expect(refusals).toHaveLength(1)
    expect(refusals[0]?.code).toMatch(/^standardize\//)
    expect(got(await archive.entries(job))).toEqual([])
  }, 60_000)
})

describe('parent metal', () => {
  it('is of a track that the sheet names', () => {
    const unknown = [...block, { of: 'parent', track: 'weld-9', file: 'p.csv' }]
    expect(() => sheet(['weld-04'], unknown)).toThrow('plan/unknown-track')
  })
})
