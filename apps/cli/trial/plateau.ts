import { readFile } from 'node:fs/promises'
import { join } from 'node:path'
import { isRefusal, type Result } from '@trueloop/ground/refusal'
import { sizing } from '@trueloop/job/evaluate'
import { openHole } from '@trueloop/job/examine'
import { declaredGroups, type Group, type Moved } from '@trueloop/job/interpret'
import { type HoleSheet, sheetOf } from '@trueloop/job/plan'
import { HEAD_LIMIT, mappingOf, openScan, type Segment, survey } from '@trueloop/job/scan'
import { openHoleReference, type Standardization } from '@trueloop/job/standardize'
import { callsOf, groundsOf } from './calls.ts'
import type { TrialOutcome } from './ratio.ts'
import { fileIn } from './run.ts'
import { type ScoredJob, scoreOf, type TrialScore } from './score.ts'
import type { TrialSetup } from './setup.ts'
import { trialSheet } from './sheet.ts'
import { type TrialTruth, truthOfHole } from './truth.ts'

/** What the trial scores with one declared number at another value. */
export interface Shifted {
  readonly group: string
  readonly name: string
  readonly value: number
  readonly factor: number
  readonly score: TrialScore
}

export const FACTORS = [0.8, 1.25] as const

/** A trial job held in memory, its reference scan read: only the examination is done again. */
export interface HeldJob {
  readonly name: string
  readonly setup: TrialSetup
  readonly truth: TrialTruth
  readonly sheet: HoleSheet
  readonly standardization: Standardization
  readonly recordings: ReadonlyMap<string, Held>
}

interface Held {
  readonly rate_Hz: number
  readonly segments: readonly Segment[]
}

/** Every declared number of interpret and evaluate, by group. */
export const declared: Readonly<Record<string, Group>> = { ...declaredGroups, sizing }

/** The score with each declared number at each factor, one at a time, in the order in which they are declared. */
export function* plateau(jobs: readonly HeldJob[]): Generator<Shifted> {
  for (const [group, numbers] of Object.entries(declared))
    for (const [name, { value }] of Object.entries(numbers))
      for (const factor of FACTORS) {
        const moved = { [group]: { [name]: factor * value } }
        yield { group, name, value: factor * value, factor, score: scoreWith(jobs, moved) }
      }
}

/** The score of jobs in memory, with some declared numbers moved. Rechecks are left out: nothing is voided. */
export const scoreWith = (jobs: readonly HeldJob[], moved: Moved): TrialScore =>
  scoreOf(jobs.map((job) => examinedJob(job, moved)))

function examinedJob(job: HeldJob, moved: Moved): ScoredJob {
  const outcomes = job.sheet.holes.map((hole) => outcomeOf(job, hole.id, moved))
  return { setup: job.setup, outcomes, voided: [] }
}

function outcomeOf(job: HeldJob, id: string, moved: Moved): TrialOutcome {
  const { technique, equipment, holes } = job.sheet
  const hole = holes.find((one) => one.id === id)!
  const { rate_Hz, segments } = job.recordings.get(id)!
  const { standardization } = job
  const names = { standardizationName: 'reference', recording: id }
  const run = sound(openHole({ ...names, technique, standardization, hole, equipment, rate_Hz, indexed: true, moved }))
  for (const segment of segments) sound(run.take(segment))
  const { examination } = sound(run.close())
  return {
    standardization,
    hole: `${job.name}/${id}`,
    truth: truthOfHole(job.truth[id]!, job.setup),
    calls: callsOf(examination),
    notExamined: groundsOf(examination)
  }
}

/** Reads a trial job into memory and its reference scan with it. */
export async function heldJob(folder: string, name: string): Promise<HeldJob> {
  const read = async <T>(file: string) => JSON.parse(await readFile(join(folder, name, file), 'utf8')) as T
  const setup = await read<TrialSetup>('setup.json')
  const truth = await read<TrialTruth>('truth.json')
  const fileOf = (one: string) => fileIn(join(folder, name), one)
  const reading = sheetOf(trialSheet({ name, setup, fileOf }))
  if ('refusals' in reading) throw new Error(JSON.stringify(reading.refusals))
  const sheet = reading.sheet as HoleSheet
  const recordings = new Map<string, Held>()
  for (const one of ['reference-start', ...sheet.holes.map(({ id }) => id)]) {
    recordings.set(one, held(new Uint8Array(await readFile(fileOf(one))), fileOf(one)))
  }
  const standardization = standardized(sheet, recordings.get('reference-start')!)
  return { name, setup, truth, sheet, standardization, recordings }
}

function standardized({ technique, reference_standard, equipment }: HoleSheet, { rate_Hz, segments }: Held) {
  const run = sound(openHoleReference({ technique, standard: reference_standard, equipment, rate_Hz, indexed: true }))
  for (const segment of segments) sound(run.take(segment))
  return sound(run.close()).standardization
}

/** The README of the trial states the channels of both formats. */
function held(bytes: Uint8Array, file: string): Held {
  const head = bytes.subarray(0, HEAD_LIMIT)
  const seen = sound(survey(head, file, bytes.length))
  const named = file.endsWith('.csv') ? { x: 'x_V', y: 'y_V', index: 'index' } : { x: 0, y: 1, index: 2 }
  const reader = sound(openScan(head, file, sound(mappingOf(seen, named)), bytes.length))
  const segments = [...sound(reader.push(bytes))]
  const end = sound(reader.end())
  return { rate_Hz: reader.rate_Hz, segments: [...segments, ...end.segments] }
}

function sound<T>(result: Result<T>): T {
  if (isRefusal(result)) throw new Error(JSON.stringify(result))
  return result as T
}
