import { mkdir, open, readdir, readFile, rename, rm, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { type Refusal, type Result, refuser } from '@trueloop/ground/refusal'
import { sheetText } from '@trueloop/host/sheet'
import type { HoleSheet } from '@trueloop/job/plan'
import {
  type DemoRecording,
  demoRecordings,
  demoSheet,
  generate,
  memoryShelf,
  type TableShelf,
  type Truth,
  writeWave
} from '@trueloop/job/rehearse'
import { codes } from '../codes.ts'
import { interrupted } from '../terminal/process.ts'

const refuse = refuser(codes)

export interface Rehearsal {
  readonly folder: string
  readonly sheet: string
  readonly recordings: readonly string[]
  readonly seed: number
  /** made by an earlier call */
  readonly before: boolean
}

const sheetName = 'job.yaml'
const truthName = 'truth.json'

/** What is made: a job sheet and its recordings, all simulated. */
export interface Staging {
  readonly sheet: HoleSheet
  readonly recordings: Iterable<DemoRecording>
  readonly shelf: TableShelf
  /** hash of the job sheet that it was made for; absent for the demonstration */
  readonly of?: string
  readonly modeled?: readonly string[]
}

const demonstration = (seed: number): Staging => ({
  sheet: demoSheet(),
  recordings: demoRecordings(seed),
  shelf: memoryShelf()
})

/**
 * Makes a demonstration job in a folder: job sheet, recordings, and what is really there (`truth.json`). The folder
 * appears whole or not at all. Refuses cli/folder-not-empty where other things lie there.
 */
export async function makeRehearsal(
  folder: string,
  seed: number,
  tell: (text: string) => void = () => undefined,
  staging: Staging = demonstration(seed)
): Promise<Result<Rehearsal>> {
  const recordings = [...staging.recordings]
  const names = recordings.map(({ file }) => file)
  const made = { folder, sheet: join(folder, sheetName), recordings: names, seed }
  const there = await whatLiesIn(folder)
  if (there.length > 0) {
    const before = await madeFrom(folder)
    return before?.seed === seed && before.of === staging.of ? { ...made, before: true } : notEmpty(folder, there)
  }
  const beside = `${folder.replace(/[\\/]+$/, '')}.unfinished`
  await rm(beside, { recursive: true, force: true })
  await mkdir(beside, { recursive: true })
  await fill(beside, { ...staging, recordings, seed }, tell)
  await rm(folder, { recursive: true, force: true })
  await rename(beside, folder)
  return { ...made, before: false }
}

async function whatLiesIn(folder: string): Promise<readonly string[]> {
  try {
    return await readdir(folder)
  } catch {
    return []
  }
}

interface MadeFrom {
  readonly seed?: number
  readonly of?: string
}

async function madeFrom(folder: string): Promise<MadeFrom | undefined> {
  try {
    return JSON.parse(await readFile(join(folder, truthName), 'utf8')) as MadeFrom
  } catch {
    return undefined
  }
}

async function fill(folder: string, staging: Staging & { readonly seed: number }, tell: (text: string) => void) {
  const { sheet, recordings, shelf, seed, of, modeled } = staging
  const truth: Record<string, Truth> = {}
  for (const recording of recordings) {
    interrupted.throwIfAborted()
    tell(`simulating ${recording.file}`)
    truth[recording.file] = await writeRecording(folder, recording, shelf)
  }
  const said = { trueloop: 'truth/1', seed, ...(of === undefined ? {} : { of }), ...(modeled && { modeled }) }
  await writeFile(join(folder, truthName), `${JSON.stringify({ ...said, recordings: truth }, null, 1)}\n`)
  await writeFile(join(folder, sheetName), sheetText(sheet, 'DEMONSTRATION: invented data, never to be signed off.'))
}

async function writeRecording(folder: string, { file, scene, seed }: DemoRecording, shelf: TableShelf): Promise<Truth> {
  const { rate_Hz, x, y, index, truth } = generate(scene, seed, shelf)
  const handle = await open(join(folder, file), 'w')
  try {
    for (const piece of writeWave(rate_Hz, [x, y, index], 'float32')) await handle.write(piece)
  } finally {
    await handle.close()
  }
  return truth
}

const notEmpty = (folder: string, there: readonly string[]): Refusal =>
  refuse('cli/folder-not-empty', {
    found: `a folder that holds ${there.slice(0, 3).join(', ')}${there.length > 3 ? ', …' : ''}`,
    needed: 'a folder that is empty or not there yet',
    remedy: 'name another folder',
    where: { file: folder }
  })
