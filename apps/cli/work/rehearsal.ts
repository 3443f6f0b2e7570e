import { readFile, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import type { Refusal, Result } from '@trueloop/ground/refusal'
import { sheetText } from '@trueloop/host/sheet'
import type { HoleSheet } from '@trueloop/job/plan'
import {
  type DemoRecording,
  demoDrawing,
  demoRecordings,
  demoSheet,
  demoSpares,
  generate,
  memoryShelf,
  type TableShelf,
  type Truth
} from '@trueloop/job/rehearse'
import { interrupted } from '../terminal/process.ts'
import { writeChannels } from './wave-file.ts'
import { appearing, notEmpty, whatLiesIn } from './whole-folder.ts'

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
  /** drawings that the sheet names, as text */
  readonly drawings?: readonly { readonly file: string; readonly text: string }[]
  /** hash of the job sheet that it was made for; absent for the demonstration */
  readonly of?: string
  readonly modeled?: readonly string[]
}

function demonstration(seed: number): Staging {
  const { text, drawing } = demoDrawing()
  return {
    sheet: { ...demoSheet(), drawings: [drawing] },
    drawings: [{ file: drawing.file, text }],
    recordings: demoRecordings(seed),
    shelf: memoryShelf()
  }
}

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
  const no = await appearing(folder, (beside) => fill(beside, { ...staging, recordings, seed }, tell))
  return no ?? { ...made, before: false }
}

/** Recordings to be scanned again in the demonstration, made once in a folder of their own. */
export async function makeSpares(folder: string, seed: number): Promise<Refusal | undefined> {
  if ((await whatLiesIn(folder)).length > 0) return undefined
  return appearing(folder, async (beside) => {
    for (const recording of demoSpares(seed)) await writeRecording(beside, recording, memoryShelf())
    return undefined
  })
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

async function fill(
  folder: string,
  staging: Staging & { readonly seed: number },
  tell: (text: string) => void
): Promise<undefined> {
  const { sheet, recordings, shelf, drawings = [], seed, of, modeled } = staging
  const truth: Record<string, Truth> = {}
  for (const recording of recordings) {
    interrupted.throwIfAborted()
    tell(`simulating ${recording.file}`)
    truth[recording.file] = await writeRecording(folder, recording, shelf)
  }
  for (const { file, text } of drawings) await writeFile(join(folder, file), text)
  const said = { trueloop: 'truth/1', seed, ...(of === undefined ? {} : { of }), ...(modeled && { modeled }) }
  await writeFile(join(folder, truthName), `${JSON.stringify({ ...said, recordings: truth }, null, 1)}\n`)
  await writeFile(join(folder, sheetName), sheetText(sheet, 'DEMONSTRATION: invented data, never to be signed off.'))
}

async function writeRecording(folder: string, { file, scene, seed }: DemoRecording, shelf: TableShelf): Promise<Truth> {
  const { rate_Hz, x, y, index, truth } = generate(scene, seed, shelf)
  await writeChannels(join(folder, file), { rate_Hz, channels: [x, y, index], format: 'float32' })
  return truth
}
