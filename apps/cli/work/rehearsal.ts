import { mkdir, open, readdir, readFile, rename, rm, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { type Refusal, type Result, refuser } from '@trueloop/ground/refusal'
import { sheetText } from '@trueloop/host/sheet'
import { type DemoRecording, demoRecordings, demoSheet, generate, type Truth, writeWave } from '@trueloop/job/rehearse'
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

/**
 * Makes a demonstration job in a folder: job sheet, recordings, and what is really there (`truth.json`). The folder
 * appears whole or not at all. Refuses cli/folder-not-empty where other things lie there.
 */
export async function makeRehearsal(
  folder: string,
  seed: number,
  tell: (text: string) => void = () => undefined
): Promise<Result<Rehearsal>> {
  const names = [...demoRecordings(seed)].map(({ file }) => file)
  const made = { folder, sheet: join(folder, sheetName), recordings: names, seed }
  const there = await whatLiesIn(folder)
  if (there.length > 0) {
    return (await seedOf(folder)) === seed ? { ...made, before: true } : notEmpty(folder, there)
  }
  const beside = `${folder.replace(/[\\/]+$/, '')}.unfinished`
  await rm(beside, { recursive: true, force: true })
  await mkdir(beside, { recursive: true })
  await fill(beside, seed, tell)
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

async function seedOf(folder: string): Promise<number | undefined> {
  try {
    return (JSON.parse(await readFile(join(folder, truthName), 'utf8')) as { seed?: number }).seed
  } catch {
    return undefined
  }
}

async function fill(folder: string, seed: number, tell: (text: string) => void): Promise<void> {
  const truth: Record<string, Truth> = {}
  for (const recording of demoRecordings(seed)) {
    interrupted.throwIfAborted()
    tell(`simulating ${recording.file}`)
    truth[recording.file] = await writeRecording(folder, recording)
  }
  await writeFile(
    join(folder, truthName),
    `${JSON.stringify({ trueloop: 'truth/1', seed, recordings: truth }, null, 1)}\n`
  )
  await writeFile(
    join(folder, sheetName),
    sheetText(demoSheet(), 'DEMONSTRATION: invented data, never to be signed off.')
  )
}

async function writeRecording(folder: string, { file, scene, seed }: DemoRecording): Promise<Truth> {
  const { rate_Hz, x, y, index, truth } = generate(scene, seed)
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
