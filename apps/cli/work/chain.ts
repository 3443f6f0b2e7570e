import { dirname } from 'node:path'
import { isRefusal, type Refusal } from '@trueloop/ground/refusal'
import type { Archive } from '@trueloop/host/archive'
import {
  alikeIn,
  type ChainInput,
  type ChainRun,
  type JobSummary,
  type Progress,
  runChain,
  summaryOf,
  type Wanted
} from '@trueloop/host/chain'
import { readSheetFile } from '@trueloop/host/sheet'
import type { Alike } from '@trueloop/job/examine'
import { replay } from '@trueloop/job/record'
import { interrupted } from '../terminal/process.ts'
import { progressLine } from '../terminal/progress.ts'
import { withArchive } from './archive.ts'
import { crewFor } from './crew.ts'
import { withSigner } from './signer.ts'

/** What the chain needs beside the archive, from the file of a job sheet. */
export type SheetInput = Omit<ChainInput, 'archive'>

export async function sheetInput(path: string): Promise<SheetInput | { readonly refusals: readonly Refusal[] }> {
  const file = await readSheetFile(path)
  if ('refusals' in file) return file
  const common = { sheet: file.sheet, place: file.place, folder: dirname(path), signal: interrupted }
  const isPiped = file.sheet.recordings.some((one) => one.file === '-') && !process.stdin.isTTY
  return isPiped ? { ...common, standardInput: process.stdin } : common
}

export interface Led extends ChainRun {
  readonly summary?: JobSummary
  /** scans of different holes that agree as two of one hole do */
  readonly alike?: readonly Alike[]
}

export interface Leading {
  readonly home?: string
  /** who signs what the sheet corrects of the record */
  readonly as?: string
  readonly passphraseFile?: string
}

/** Leads a sheet's recordings through the chain, progress shown, and says how the job stands after it. */
export async function leadThrough(path: string, wanted: Wanted, leading: Leading = {}): Promise<Led> {
  const { home, as, passphraseFile } = leading
  const input = await sheetInput(path)
  if ('refusals' in input) return { outcomes: [], refusals: input.refusals, interrupted: false }
  const led =
    as === undefined
      ? await withArchive((archive) => leadIn(archive, input, wanted), home)
      : await withSigner(as, { home, passphraseFile }, (archive, signer) =>
          leadIn(archive, { ...input, signer }, wanted)
        )
  return isRefusal(led) ? { outcomes: [], refusals: [led], interrupted: false } : led
}

async function leadIn(archive: Archive, input: SheetInput, wanted: Wanted): Promise<Led> {
  const progress = progressLine()
  const tell = (one: Progress) => progress.show(progressText(one))
  const crew = crewFor(input.sheet, input.signal)
  const run = await runChain({ ...input, archive, tell, ...(crew === undefined ? {} : { crew }) }, wanted).finally(() =>
    crew?.close()
  )
  progress.clear()
  const rows = await archive.entries(input.sheet.job.id)
  if (isRefusal(rows) || rows.length === 0) return run
  const state = replay(rows)
  const compared = await alikeIn(archive, state)
  const led = { ...run, summary: summaryOf(state) }
  return isRefusal(compared) ? { ...led, refusals: [...run.refusals, compared] } : { ...led, alike: compared.pairs }
}

function progressText({ step, file, at, of, bytes, size }: Progress): string {
  const share = size > 0 ? ` ${Math.floor((100 * bytes) / size)} %` : ''
  return `${at} of ${of}: ${step} ${file}${share}`
}
