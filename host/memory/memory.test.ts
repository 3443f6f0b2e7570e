import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { replay } from '@trueloop/job/record'
import { examined, kept, opened, standardized } from '@trueloop/job/record/testing'
import fc from 'fast-check'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { type Archive, openArchive } from '../archive/index.ts'
import { runChain } from '../chain/index.ts'
import { demoJob } from '../chain/testing/demo-job.ts'
import { got } from '../chain/testing/index.ts'
import { EntryMemory, replayed } from './index.ts'

/** Oracle: the archive itself, asked beside the memory. */

let folder = ''
let archive: Archive
let remembering: Archive
let memory: EntryMemory
let reads = 0
beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), 'trueloop-memory-'))
  archive = got(await openArchive(folder))
  reads = 0
  const counting: Archive = {
    ...archive,
    entries: (job) => {
      reads++
      return archive.entries(job)
    }
  }
  memory = new EntryMemory()
  remembering = memory.over(counting)
})
afterEach(async () => {
  await archive.close()
  rmSync(folder, { recursive: true })
})
const begun = () => [opened('J', ['1']), kept('ref', { of: 'reference' }), standardized('ref')]
const scan = () => [kept('scan', { of: 'hole', name: '1' }), examined('scan', '1', 'ref')]
const both = async (job = 'J') => [got(await remembering.entries(job)), got(await archive.entries(job))] as const

describe('entries from memory', () => {
  it('are those of the archive, read once, the same array while nothing has changed', async () => {
    got(await archive.append('J', 0, begun()))
    const [first, direct] = await both()
    expect(first).toEqual(direct)
    expect((await both())[0]).toBe(first)
    expect(reads).toBe(1)
    expect(replayed(first)).toBe(replayed(first))
    expect(replayed(first)).toEqual(replay(direct))
  })

  it('grow with what is appended through them, and are read anew after another has written', async () => {
    got(await remembering.append('J', 0, begun()))
    await both()
    const entries = scan()
    got(await remembering.append('J', 3, entries))
    const [grown, direct] = await both()
    expect([grown, reads]).toEqual([direct, 1])
    got(await remembering.append('J', 3, entries))
    expect((await both())[0]).toEqual(direct)
    got(await archive.append('J', 5, [kept('other', { of: 'hole', name: '1' })]))
    const [after, all] = await both()
    expect(after).toEqual(all)
    expect(reads).toBe(2)
  })

  it('are of a few jobs, and of none that is not there', async () => {
    for (let k = 0; k < 9; k++) got(await archive.append(`J${k}`, 0, [opened(`J${k}`, ['1'])]))
    for (let k = 0; k < 9; k++) expect(await both(`J${k}`)).toHaveLength(2)
    expect(reads).toBe(9)
    await both('J8')
    expect(reads).toBe(9)
    await both('J0')
    expect(reads).toBe(10)
    expect((await both('none'))[0]).toEqual([])
  })

  it('are given to the archive of the very end that it has, and of no other', async () => {
    got(await remembering.append('J', 0, begun()))
    const [rows] = await both()
    const end = got(await archive.end('J'))
    expect(memory.rows(end)).toBe(rows)
    for (const other of [{ head: rows[1]!.hash }, { count: 2 }, { id: 'K' }])
      expect(memory.rows({ ...end, ...other })).toBeUndefined()
  })
})

describe('a job replayed from memory', () => {
  it('stands as a replay of all of it says, wherever it was cut', async () => {
    const sheet = demoJob(folder, ['reference-start.wav', 'hole-P01.wav', 'hole-P02.wav', 'recheck-1.wav'])
    const { refusals } = await runChain({ sheet, folder, archive })
    expect(refusals).toEqual([])
    const rows = got(await archive.entries(sheet.job.id))
    expect(new Set(rows.map(({ kind }) => kind))).toContain('recheck')
    const cut = fc.integer({ min: 1, max: rows.length })
    fc.assert(
      fc.property(fc.array(cut, { minLength: 1, maxLength: 8 }), (cuts) => {
        for (const count of [...cuts, rows.length]) {
          const some = rows.slice(0, count)
          expect(replayed(some)).toEqual(replay(some))
        }
      }),
      { numRuns: 20, seed: 5 }
    )
  }, 60_000)
})
