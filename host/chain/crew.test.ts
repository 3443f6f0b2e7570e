import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { isRefusal, type Result } from '@trueloop/ground/refusal'
import type { HoleSheet } from '@trueloop/job/plan'
import { afterEach, beforeAll, beforeEach, describe, expect, it, vi } from 'vitest'
import { type Archive, openArchive } from '../archive/index.ts'
import { type Crew, openCrew } from '../crew/index.ts'
import { bundledWorker } from '../crew/testing/bundled.ts'
import { type ChainInput, runChain, wallIn } from './index.ts'
import { demoJob, silent, writeDemo } from './testing/demo-job.ts'

const files = ['reference-start.wav', 'hole-P01.wav', 'hole-P02.wav', 'recheck-1.wav', 'hole-P09.wav']
const clock = () => ({ time: '2026-01-01T00:00:00.000Z', known: 'clock of this computer' }) as const

let program: URL
let folder = ''
let crew: Crew | undefined

beforeAll(async () => {
  program = await bundledWorker('host/crew/worker.ts', 'chain-worker')
})

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'trueloop-chain-crew-'))
})

afterEach(async () => {
  await crew?.close()
  crew = undefined
  rmSync(folder, { recursive: true })
})

const got = <T>(result: Result<T>): T => {
  if (isRefusal(result)) throw new Error(`${result.code}: ${result.found}`)
  return result as T
}

/** What a fresh archive holds after the chain: rows in order, with their hashes. */
async function recorded(name: string, sheet: HoleSheet, given: Partial<ChainInput>) {
  const archive: Archive = got(await openArchive(join(folder, name)))
  try {
    const { outcomes, refusals, interrupted } = await runChain({ sheet, folder, archive, clock, ...given })
    return { outcomes, refusals, interrupted, rows: got(await archive.entries(sheet.job.id)) }
  } finally {
    await archive.close()
  }
}

describe('the chain with a crew', () => {
  it('records the very entries of one thread, in their order, a refused scan with them', async () => {
    const sheet = demoJob(folder, files)
    writeDemo(join(folder, 'hole-P02.wav'), 'hole-P02.wav', silent)
    crew = openCrew({ program, workers: 2 })
    const asked = vi.spyOn(crew, 'examine')
    const alone = await recorded('alone', sheet, {})
    const together = await recorded('together', sheet, { crew })
    const answers = await Promise.all(asked.mock.results.map(({ value }) => value))
    const refused = answers.map((one) => (isRefusal(one) ? one.code : 'examined'))
    expect(refused).toEqual(['examined', 'scan/all-zero', 'examined'])
    expect(alone.outcomes.map(({ did }) => did)).toEqual([
      'standardized',
      'examined',
      'examined',
      'recheck',
      'examined'
    ])
    expect(together).toEqual(alone)
  })

  it('keeps the wall of every hole that it has examined, the same as one made from the record again', async () => {
    const sheet = demoJob(folder, files)
    crew = openCrew({ program, workers: 2 })
    for (const [name, given] of [
      ['alone', {}],
      ['together', { crew }]
    ] as const) {
      await recorded(name, sheet, given)
      const place = join(folder, name, 'walls')
      const kept = new Map(readdirSync(place).map((file) => [file, readFileSync(join(place, file))]))
      expect(kept.size).toBe(3)
      rmSync(place, { recursive: true })
      const archive: Archive = got(await openArchive(join(folder, name)))
      for (const [file, bytes] of kept) {
        const again = got(await wallIn(archive, sheet.job.id, file.replace('.wall', '')))
        expect(bytes.equals(again as Uint8Array)).toBe(true)
      }
      await archive.close()
    }
  })

  it('records all the same where no wall can be kept', async () => {
    const sheet = demoJob(folder, files)
    mkdirSync(join(folder, 'blocked'))
    writeFileSync(join(folder, 'blocked', 'walls'), 'a file where a folder is wanted')
    expect(await recorded('blocked', sheet, {})).toEqual(await recorded('alone', sheet, {}))
  })

  it('examines in its own thread what the crew could not answer', async () => {
    const sheet = demoJob(folder, files)
    const alone = await recorded('alone', sheet, {})
    expect(alone.outcomes).toHaveLength(files.length)
    crew = openCrew({ program: new URL('no-such-worker.mjs', program), workers: 2 })
    expect(await recorded('together', sheet, { crew })).toEqual(alone)
  })

  it('is interrupted as without one', async () => {
    const sheet = demoJob(folder, files)
    const ending = new AbortController()
    const { signal } = ending
    crew = openCrew({ program, workers: 2, signal })
    const tell: NonNullable<ChainInput['tell']> = ({ step, file }) => {
      if (step === 'reading' && file === 'hole-P02.wav') ending.abort()
    }
    const stopped = await recorded('stopped', sheet, { crew, signal, tell })
    expect(stopped).toMatchObject({ interrupted: true, refusals: [] })
    expect(stopped.outcomes.map(({ file }) => file)).toEqual(['reference-start.wav', 'hole-P01.wav'])
  })
})
