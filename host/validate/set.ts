import { mkdir, open, readFile, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { isRefusal, sentence } from '@trueloop/ground/refusal'
import { demoRecordings, demoSheet, generate, writeWave } from '@trueloop/job/rehearse'
import { type Archive, openArchive } from '../archive/index.ts'
import { checkJob, runChain } from '../chain/index.ts'
import type { Check } from './figures.ts'

/**
 * The set that is shipped with the program: the demonstration job, made from its seed on this machine, led through the
 * whole chain into an archive of its own, and looked at again.
 */

/** Names of the examinations that came out of the set when this version was made, by recording. */
export interface Expected {
  readonly method: number
  readonly examinations: Readonly<Record<string, string>>
}

export interface SetRun {
  /** name of the examination (SHA-256 of its findings), by recording */
  readonly examinations: Readonly<Record<string, string>>
  readonly checks: readonly Check[]
}

/** Examines the set in a folder that is this run's alone. What is refused on the way is a check that does not hold. */
export async function runSet(folder: string): Promise<SetRun> {
  await writeSet(folder)
  const archive = await openArchive(join(folder, 'archive'))
  if (isRefusal(archive)) return { examinations: {}, checks: [failed('an archive of its own', sentence(archive))] }
  try {
    return await examined(archive, folder)
  } finally {
    await archive.close()
  }
}

async function writeSet(folder: string): Promise<void> {
  await mkdir(folder, { recursive: true })
  for (const { file, scene, seed } of demoRecordings(1)) {
    const { rate_Hz, x, y, index } = generate(scene, seed)
    await writeFile(join(folder, file), Buffer.concat([...writeWave(rate_Hz, [x, y, index], 'float32')]))
  }
}

async function examined(archive: Archive, folder: string): Promise<SetRun> {
  const sheet = demoSheet()
  const run = await runChain({ sheet, folder, archive })
  const [refusal] = run.refusals
  if (refusal !== undefined) return { examinations: {}, checks: [failed('the chain', sentence(refusal))] }
  const examinations = Object.fromEntries(
    run.outcomes.flatMap((one) => (one.did === 'examined' ? [[one.file, one.examination]] : []))
  )
  return { examinations, checks: [await isIntact(archive, sheet.job.id), await tellsTampering(archive, sheet.job.id)] }
}

const failed = (name: string, found: string): Check => ({
  ...{ name, needed: 'no refusal', found, holds: false, source: 'this program' }
})

/** The places of what is not as it was written; a refusal stands for itself. */
const faultsOf = (checked: Awaited<ReturnType<typeof checkJob>>): readonly string[] =>
  isRefusal(checked) ? [sentence(checked)] : checked.intact.faults.map(({ place }) => place)

async function isIntact(archive: Archive, job: string): Promise<Check> {
  const faults = faultsOf(await checkJob(archive, job, {}))
  const found = faults.length === 0 ? 'intact' : faults.join('; ')
  return {
    ...{ name: 'record of the set, looked at again', needed: 'intact', found, holds: faults.length === 0 },
    source: 'rfc8785, fips180-4'
  }
}

/** A check that can not fail shows nothing: one byte of one original is changed, told, and put back. */
async function tellsTampering(archive: Archive, job: string): Promise<Check> {
  const rows = await archive.entries(job)
  if (isRefusal(rows)) return failed('one byte changed', sentence(rows))
  const kept = rows.find(({ kind }) => kind === 'recording-kept')
  const { sha256 } = JSON.parse(kept?.body ?? '{}') as { readonly sha256: string }
  const path = archive.originalPath(sha256)
  await flipByte(path)
  const faults = faultsOf(await checkJob(archive, job, {}))
  await flipByte(path)
  const holds = faults.length === 1 && faults[0]?.includes(sha256) === true
  return {
    ...{ name: 'one byte of one original changed', needed: `told of original ${sha256} alone` },
    ...{ found: holds ? 'told of it alone' : `told of: ${faults.join('; ')}`, holds, source: 'fips180-4' }
  }
}

async function flipByte(path: string): Promise<void> {
  const bytes = await readFile(path)
  const at = bytes.length >> 1
  const handle = await open(path, 'r+')
  try {
    await handle.write(Uint8Array.of((bytes[at] as number) ^ 1), 0, 1, at)
  } finally {
    await handle.close()
  }
}

/** One check a recording: the findings equal to the bit, or not. */
export const findingChecks = (found: SetRun['examinations'], { examinations }: Expected): readonly Check[] =>
  Object.entries(examinations).map(([file, needed]) => {
    const is = found[file] ?? 'no examination'
    return {
      name: `findings of ${file}`,
      needed,
      found: is,
      holds: is === needed,
      source: 'the release of this program'
    }
  })
