import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { setTimeout as sleep } from 'node:timers/promises'
import { isRefusal, type Result } from '@trueloop/ground/refusal'
import { type Archive, openArchive, openPatiently } from '@trueloop/host/archive'
import { got } from '@trueloop/host/chain/testing'
import { opened } from '@trueloop/job/record/testing'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { HeldArchive } from './held-archive.ts'

/** Oracle: the lock of the operating system, met from outside as any other program meets it. */

let folder = ''
let held: HeldArchive
const hold = { idle_ms: 400, longest_ms: 60_000, pause_ms: 150 }

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'trueloop-held-'))
  held = new HeldArchive(folder, hold)
})
afterEach(async () => {
  await held.close()
  rmSync(folder, { recursive: true })
})

const jobs = (archive: Archive) => archive.jobs()
const codeOf = async (asked: Promise<Result<unknown>>): Promise<string> => {
  const answer = await asked
  if (!isRefusal(answer)) await (answer as Archive).close?.()
  return isRefusal(answer) ? answer.code : 'open'
}

describe('an archive that is held for a moment', () => {
  it('is shared by what is asked at the same time, and let go after it', async () => {
    const seen = new Set<Archive>()
    const look = (archive: Archive) => {
      seen.add(archive)
      return archive.jobs()
    }
    await Promise.all([held.use(look), held.use(look), held.use(look)])
    await held.use(look)
    expect(seen.size).toBe(1)
    expect(await codeOf(openArchive(folder))).toBe('archive/locked')
    await sleep(1200)
    expect(await codeOf(openArchive(folder))).toBe('open')
    got(await held.use(look))
    expect(seen.size).toBe(2)
  })

  it('lets a command in that waits a moment, however many requests there are', async () => {
    held = new HeldArchive(folder, { ...hold, longest_ms: 400 })
    let asking = true
    const burst = (async () => {
      for (; asking; await sleep(5)) got(await held.use(jobs))
    })()
    await sleep(50)
    expect(await codeOf(openPatiently(folder))).toBe('open')
    asking = false
    await burst
  })

  it('is shared with work that takes long: who reads does not wait for its end', async () => {
    held = new HeldArchive(folder, { ...hold, longest_ms: 100 })
    let ended = false
    const long = held.write(async (archive) => {
      await sleep(1500)
      ended = true
      return archive.jobs()
    })
    await sleep(500)
    got(await held.use(jobs))
    expect(ended).toBe(false)
    got(await long)
  })

  it('writes one after the other, and goes on after one that was thrown', async () => {
    const order: string[] = []
    const slow = held.write(async (archive) => {
      await sleep(50)
      order.push('first')
      return archive.append('J', 0, [opened('J', ['1'])])
    })
    const broken = held.write(async () => {
      throw new Error('a fault')
    })
    const second = held.write((archive) => {
      order.push('second')
      return archive.end('J')
    })
    expect(got(await slow)).toHaveLength(1)
    await expect(broken).rejects.toThrow('a fault')
    expect([got(await second).count, order]).toEqual([1, ['first', 'second']])
  })

  it('tells of another holder at once, and is not opened by two', async () => {
    const other = got(await openArchive(folder))
    expect(await codeOf(held.use(jobs))).toBe('archive/locked')
    await other.close()
    got(await held.use(jobs))
  })
})
