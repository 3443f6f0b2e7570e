import { execFileSync, spawn } from 'node:child_process'
import { createReadStream, mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { PassThrough } from 'node:stream'
import { isRefusal } from '@trueloop/ground/refusal'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { type Archive, openArchive } from '../archive/index.ts'
import { bytesOf, runChain } from './index.ts'
import { demoJob } from './testing/demo-job.ts'

let folder = ''
let archive: Archive

beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), 'trueloop-source-'))
  const opened = await openArchive(join(folder, 'archive'))
  if (isRefusal(opened)) throw new Error(opened.found)
  archive = opened
})

afterEach(async () => {
  await archive.close()
  rmSync(folder, { recursive: true })
})

const reference = 'reference-start.wav'
const jobFrom = (file: string) => {
  const sheet = demoJob(folder, [reference])
  return { ...sheet, recordings: sheet.recordings.map((one) => ({ ...one, file })) }
}
const pipe = (name: string): string => {
  execFileSync('mkfifo', [join(folder, name)])
  return join(folder, name)
}

describe.skipIf(process.platform === 'win32')('a recording through a pipe', () => {
  it('that is named gives the bytes of the file', async () => {
    const plain = await runChain({ sheet: demoJob(folder, [reference]), folder, archive })
    const path = pipe('pipe.wav')
    const sheet = { ...jobFrom('pipe.wav'), job: { ...jobFrom('x').job, id: 'PIPE' } }
    const running = runChain({ sheet, folder, archive })
    spawn('sh', ['-c', 'cat "$0" > "$1"', join(folder, reference), path])
    const { outcomes, refusals } = await running
    expect(refusals).toEqual([])
    expect(outcomes[0]?.recording).toBe(plain.outcomes[0]?.recording)
  })

  it('that is standard input is named "-"', async () => {
    const sheet = jobFrom('-')
    const standardInput = createReadStream(join(folder, reference), { highWaterMark: 977 })
    const { outcomes, refusals } = await runChain({ sheet, folder, archive, standardInput })
    expect(refusals).toEqual([])
    expect(outcomes[0]).toMatchObject({ did: 'standardized', file: '-' })
  })

  it('is refused where nothing is piped in', async () => {
    const { refusals } = await runChain({ sheet: jobFrom('-'), folder, archive })
    expect(refusals).toMatchObject([{ code: 'chain/no-recording', where: { path: 'recordings[0].file' } }])
  })

  it('is interrupted while the pipe gives nothing, and nothing is recorded', async () => {
    pipe('silent.wav')
    for (const [file, standardInput] of [['silent.wav'], ['-', new PassThrough()]] as const) {
      const ending = new AbortController()
      const sheet = jobFrom(file)
      const input = { sheet, folder, archive, signal: ending.signal, ...(standardInput && { standardInput }) }
      const running = runChain(input)
      setTimeout(() => ending.abort(), 100)
      expect(await running).toEqual({ outcomes: [], refusals: [], interrupted: true })
      expect(await archive.entries(sheet.job.id)).toEqual([])
    }
  })
})

it('reads a file in pieces, to its last byte', async () => {
  const bytes = Buffer.alloc((1 << 20) + 17, 5)
  writeFileSync(join(folder, 'file'), bytes)
  const sizes: number[] = []
  for await (const piece of bytesOf(join(folder, 'file'))) sizes.push(piece.length)
  expect(sizes.length).toBeGreaterThan(1)
  expect(sizes.reduce((sum, size) => sum + size, 0)).toBe(bytes.length)
})
