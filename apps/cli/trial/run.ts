import { existsSync } from 'node:fs'
import { mkdir, mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join, resolve } from 'node:path'
import { isRefusal, type Refusal, type Result, refuser } from '@trueloop/ground/refusal'
import type { Archive } from '@trueloop/host/archive'
import type { Examination } from '@trueloop/job/examine'
import { type JobState, replay } from '@trueloop/job/record'
import type { Standardization } from '@trueloop/job/standardize'
import { codes } from '../codes.ts'
import { withArchive } from '../work/archive.ts'
import { leadThrough } from '../work/chain.ts'
import { callsOf, groundsOf } from './calls.ts'
import type { TrialOutcome } from './ratio.ts'
import type { ScoredJob } from './score.ts'
import type { TrialSetup } from './setup.ts'
import { trialSheet } from './sheet.ts'
import { type TrialTruth, truthOfHole } from './truth.ts'
import { weldJobs } from './weld/held.ts'

const refuse = refuser(codes)

/** Names of the trial jobs in a folder, those with holes and those with welds. */
export async function trialJobs(
  folder: string
): Promise<Result<{ readonly holes: readonly string[]; readonly welds: readonly string[] }>> {
  const names = await readdir(folder).catch(() => [])
  const holes: string[] = []
  for (const name of names.sort()) if (await isHoleJob(join(folder, name))) holes.push(name)
  const welds = await weldJobs(folder)
  return holes.length + welds.length > 0 ? { holes, welds } : noTrial(folder)
}

async function isHoleJob(folder: string): Promise<boolean> {
  if (!existsSync(join(folder, 'setup.json')) || !existsSync(join(folder, 'truth.json'))) return false
  return 'grip_mm' in (await readJson<object>(join(folder, 'setup.json')))
}

const readJson = async <T>(path: string): Promise<T> => JSON.parse(await readFile(path, 'utf8')) as T

const noTrial = (folder: string): Refusal =>
  refuse('cli/no-trial', {
    found: 'no folder with setup.json and truth.json of holes or welds',
    needed: 'the folder of the trial recordings',
    remedy: 'name that folder; TRUELOOP_SHARED names the folder of outside data',
    where: { file: folder }
  })

/** Examines one trial job by the commands' own functions, in a fresh archive that is removed afterwards. */
export async function runTrialJob(
  folder: string,
  name: string
): Promise<ScoredJob | { readonly refusals: readonly Refusal[] }> {
  const setup = await readJson<TrialSetup>(join(folder, name, 'setup.json'))
  const truth = await readJson<TrialTruth>(join(folder, name, 'truth.json'))
  const home = await mkdtemp(join(tmpdir(), 'trueloop-trial-'))
  try {
    const sheet = join(home, 'sheet', 'job.json')
    await mkdir(join(home, 'sheet'))
    await writeFile(
      sheet,
      JSON.stringify(trialSheet({ name, setup, fileOf: (one) => fileIn(join(folder, name), one) }), null, 1)
    )
    const led = await leadThrough(sheet, {}, { home })
    if (led.refusals.length > 0) return { refusals: led.refusals }
    const outcomes = await withArchive((archive) => outcomesIn(archive, { name, setup, truth }), home)
    return isRefusal(outcomes) ? { refusals: [outcomes] } : { setup, ...outcomes }
  } finally {
    await rm(home, { recursive: true, force: true })
  }
}

export const fileIn = (folder: string, name: string): string =>
  resolve(folder, existsSync(join(folder, `${name}.wav`)) ? `${name}.wav` : `${name}.csv`)

interface Trial {
  readonly name: string
  readonly setup: TrialSetup
  readonly truth: TrialTruth
}

async function outcomesIn(archive: Archive, trial: Trial): Promise<Result<Pick<ScoredJob, 'outcomes' | 'voided'>>> {
  const rows = await archive.entries(`TRIAL ${trial.name}`)
  if (isRefusal(rows)) return rows
  const state = replay(rows)
  const outcomes: TrialOutcome[] = []
  const known = new Map<string, Standardization>()
  for (const place of state.places) {
    const one = await outcomeOf({ archive, known }, trial, place)
    if (isRefusal(one)) return one
    outcomes.push(one)
  }
  return { outcomes, voided: voidedOf(state).map((hole) => `${trial.name}/${hole}`) }
}

const voidedOf = (state: JobState): readonly string[] =>
  state.places
    .filter(({ examinations }) => examinations.some(({ standing }) => standing.standing === 'voided'))
    .map(({ place }) => place.name)

interface Documents {
  readonly archive: Archive
  /** standardizations already read, by name */
  readonly known: Map<string, Standardization>
}

async function outcomeOf(
  { archive, known }: Documents,
  trial: Trial,
  place: JobState['places'][number]
): Promise<Result<TrialOutcome>> {
  const hole = place.place.name
  const truth = trial.truth[hole]
  const last = place.examinations.at(-1)
  if (truth === undefined || last === undefined) throw new Error(`the trial has no truth or no recording of ${hole}`)
  const document = await archive.document(last.examination)
  if (isRefusal(document)) return document
  const examination = JSON.parse(document.text) as Examination
  const standardization = await standardizationOf({ archive, known }, examination)
  if (isRefusal(standardization)) return standardization
  return {
    ...(standardization === undefined ? {} : { standardization }),
    hole: `${trial.name}/${hole}`,
    truth: truthOfHole(truth, trial.setup),
    calls: callsOf(examination),
    notExamined: groundsOf(examination)
  }
}

async function standardizationOf(
  { archive, known }: Documents,
  { standardization: name }: Examination
): Promise<Result<Standardization> | undefined> {
  if (name === 'none') return undefined
  const read = known.get(name)
  if (read !== undefined) return read
  const document = await archive.document(name)
  if (isRefusal(document)) return document
  const standardization = JSON.parse(document.text) as Standardization
  known.set(name, standardization)
  return standardization
}
