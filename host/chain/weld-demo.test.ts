import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Examination } from '@trueloop/job/examine'
import { replay } from '@trueloop/job/record'
import { trackCsv, weldDemoRecording, weldDemoRecordings, weldDemoSheet } from '@trueloop/job/rehearse'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { type Archive, openArchive } from '../archive/index.ts'
import { reportHtml, runChain } from './index.ts'
import { got } from './testing/shop.ts'

/** Oracle: what the generator has put on each track; nothing of it is told to the chain. */

let home = ''
let archive: Archive
const truth = new Map<string, ReturnType<typeof weldDemoRecording>['truth']>()

beforeAll(async () => {
  home = mkdtempSync(join(tmpdir(), 'trueloop-weld-demo-'))
  archive = got(await openArchive(join(home, 'archive')))
  for (const one of weldDemoRecordings(1)) {
    const recording = weldDemoRecording(one)
    truth.set(one.file, recording.truth)
    writeFileSync(join(home, one.file), trackCsv(recording))
  }
  const { refusals, outcomes } = await runChain({ sheet: weldDemoSheet(), folder: home, archive })
  expect(refusals).toEqual([])
  expect(outcomes.at(-1)).toMatchObject({ did: 'recheck', passed: true })
}, 60_000)
afterAll(async () => {
  await archive.close()
  rmSync(home, { recursive: true })
})

const state = async () => replay(got(await archive.entries('DEMO-2')))
const examined = async (track: string): Promise<Examination> => {
  const place = (await state()).places.find(({ place: { name } }) => name === track)
  return JSON.parse(got(await archive.document(place?.latest?.examination ?? '')).text) as Examination
}
const fileOf = (track: string) =>
  weldDemoSheet().recordings.find((one) => one.of === 'track' && one.track === track)?.file

describe('the weld job of the demonstration', () => {
  it.each(weldDemoSheet().tracks.map(({ id }) => id))(
    '%s: every flaw is found where it is, and nothing else',
    async (track) => {
      const { indications } = await examined(track)
      const flaws = truth.get(fileOf(track) ?? '')?.flaws ?? []
      const found = indications.filter(({ class: is }) => is === 'relevant' || is === 'undecided')
      const sorted = [...flaws].sort((a, b) => a.start_mm - b.start_mm)
      expect(found).toHaveLength(sorted.length)
      for (const [k, { start_mm, end_mm, depth_mm }] of sorted.entries()) {
        const one = found.toSorted((a, b) => Number(a.z0_m) - Number(b.z0_m))[k]
        expect(Math.abs(1e3 * Number(one?.z0_m) - start_mm)).toBeLessThan(1.5)
        expect(Math.abs(1e3 * Number(one?.z1_m) - end_mm)).toBeLessThan(1.5)
        if (depth_mm <= 2) expect(Math.abs((one?.size.depth_mm ?? 0) - depth_mm)).toBeLessThan(0.15)
        else expect([one?.size.depth_mm, one?.size.lower_mm]).toEqual([undefined, 2])
      }
    }
  )

  it('what lies under more paint than the shims is not examined, with its reason', async () => {
    const { zones } = await examined('upper toe, right')
    const gaps = zones.filter(({ state: is }) => is === 'not examined')
    expect(gaps).toHaveLength(1)
    expect(gaps[0]?.why.join()).toContain('above 2.00 mm')
    expect(Number(gaps[0]?.z0_m)).toBeLessThan(0.23)
    expect(Number(gaps[0]?.z1_m)).toBeGreaterThan(0.23)
  })
})

describe('the checks of its probe', () => {
  it('are in the record once, however often the sheet is led through', async () => {
    const before = await state()
    expect(before.probeChecks.map(({ check }) => check.on)).toEqual(['2026-01-12', '2026-03-02'])
    expect((await runChain({ sheet: weldDemoSheet(), folder: home, archive })).refusals).toEqual([])
    expect((await state()).count).toBe(before.count)
  })
})

describe('its report', () => {
  it('has the lanes, and says of what no lane passes that it is not examined', async () => {
    const report = got(await reportHtml(archive, 'DEMO-2')) ?? ''
    const said = [
      'Weld plan',
      'A fillet weld of 320 mm',
      'Cap: no lane. Not examined.',
      'Parent B: no lane. Not examined.'
    ]
    expect(said.filter((words) => !report.includes(words))).toEqual([])
    expect(report.includes('lane upper toe, left over toe A: not run')).toBe(false)
    const fitness = ['Probe DW-1', 'Checked on 2026-03-02', 'From check to check', '−0.20']
    expect(fitness.filter((words) => !report.includes(words))).toEqual([])
  })
})
