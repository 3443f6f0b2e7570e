import { writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import type { Result } from '@trueloop/ground/refusal'
import { sheetText } from '@trueloop/host/sheet'
import { trackCsv, weldDemoRecording, weldDemoRecordings, weldDemoSheet } from '@trueloop/job/rehearse'
import { interrupted } from '../terminal/process.ts'
import { appearing, whatLiesIn } from './whole-folder.ts'

/**
 * Makes the weld job of the demonstration in a folder: job sheet, recordings, and what is really there. The folder appears
 * whole or not at all; one that is there is taken as it is. Gives the path of the sheet.
 */
export async function makeWeldRehearsal(
  folder: string,
  seed: number,
  tell: (text: string) => void = () => undefined
): Promise<Result<string>> {
  const sheet = join(folder, 'job.yaml')
  if ((await whatLiesIn(folder)).length > 0) return sheet
  const no = await appearing(folder, (beside) => fill(beside, seed, tell))
  return no ?? sheet
}

async function fill(folder: string, seed: number, tell: (text: string) => void): Promise<undefined> {
  const truth: Record<string, unknown> = {}
  for (const one of weldDemoRecordings(seed)) {
    interrupted.throwIfAborted()
    tell(`simulating ${one.file}`)
    const recording = weldDemoRecording(one)
    truth[one.file] = recording.truth
    await writeFile(join(folder, one.file), trackCsv(recording))
  }
  await writeFile(
    join(folder, 'truth.json'),
    `${JSON.stringify({ trueloop: 'truth/1', seed, recordings: truth }, null, 1)}\n`
  )
  await writeFile(
    join(folder, 'job.yaml'),
    sheetText(weldDemoSheet(), 'DEMONSTRATION: invented data, never to be signed off.')
  )
}
