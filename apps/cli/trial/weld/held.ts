import { existsSync } from 'node:fs'
import { readdir, readFile } from 'node:fs/promises'
import { join } from 'node:path'
import { isRefusal, type Result } from '@trueloop/ground/refusal'
import { HEAD_LIMIT, mappingOf, openScan, type Segment, survey } from '@trueloop/job/scan'

/** `setup.json` of a trial job with welds: what the inspector knows. */
export interface WeldSetup {
  readonly field_width_mm: number
  readonly metal: string
  readonly frequency_khz: number
  readonly source_filter: string
  readonly equipment: {
    readonly instrument: string
    readonly probe: string
    readonly absolute_probe?: string
    readonly gain: string
  }
  readonly technique: {
    readonly confirmed_by: string
    readonly alarm: { readonly slot: string; readonly share: number }
    readonly largest_coating_mm?: number
    readonly max_speed_mm_s: number
    readonly min_signal_to_noise?: number
    readonly may_class_by_phase_and_shape?: readonly string[]
  }
  readonly slots_mm: readonly number[]
  readonly shims_mm: readonly number[]
  readonly slot_positions_mm: readonly number[]
}

export interface WeldTruth {
  readonly flaws: readonly {
    readonly start_mm: number
    readonly end_mm: number
    readonly length_mm: number
    readonly depth_mm: number
  }[]
  readonly coating_mm: { readonly least: number; readonly median: number; readonly greatest: number }
}

export interface Held {
  readonly rate_Hz: number
  readonly segments: readonly Segment[]
}

/** A trial job with welds, held in memory. */
export interface HeldWelds {
  readonly name: string
  readonly setup: WeldSetup
  readonly truth: Readonly<Record<string, WeldTruth>>
  readonly shims: readonly { readonly shim_mm: number; readonly run: Held }[]
  readonly welds: readonly { readonly name: string; readonly run: Held; readonly parent: Held | undefined }[]
}

/** Names of the trial jobs with welds in a folder. */
export async function weldJobs(folder: string): Promise<readonly string[]> {
  const names = await readdir(folder).catch(() => [])
  const jobs: string[] = []
  for (const name of names.sort()) if (await isWeldJob(join(folder, name))) jobs.push(name)
  return jobs
}

async function isWeldJob(folder: string): Promise<boolean> {
  if (!existsSync(join(folder, 'setup.json')) || !existsSync(join(folder, 'truth.json'))) return false
  return 'slots_mm' in (JSON.parse(await readFile(join(folder, 'setup.json'), 'utf8')) as object)
}

export async function heldWelds(folder: string, name: string): Promise<Result<HeldWelds>> {
  const at = join(folder, name)
  const json = async <T>(file: string) => JSON.parse(await readFile(join(at, file), 'utf8')) as T
  const setup = await json<WeldSetup>('setup.json')
  const truth = await json<HeldWelds['truth']>('truth.json')
  const shims: { shim_mm: number; run: Held }[] = []
  for (const shim_mm of setup.shims_mm) {
    const names = [shim_mm.toFixed(1), shim_mm.toFixed(2), String(shim_mm)].map((one) => `block-shim-${one}.csv`)
    const run = await held(join(at, names.find((one) => existsSync(join(at, one))) ?? names[0]!))
    if (isRefusal(run)) return run
    shims.push({ shim_mm, run })
  }
  const welds: { name: string; run: Held; parent: Held | undefined }[] = []
  for (const weld of Object.keys(truth).sort()) {
    const run = await held(join(at, `${weld}.csv`))
    if (isRefusal(run)) return run
    const beside = join(at, `${weld.replace('weld', 'parent')}.csv`)
    const parent = existsSync(beside) ? await held(beside) : undefined
    if (isRefusal(parent)) return parent
    welds.push({ name: weld, run, parent })
  }
  return { name, setup, truth, shims, welds }
}

/** The columns are named in the files; the README of the trial states what `a` is. */
async function held(file: string): Promise<Result<Held>> {
  const bytes = new Uint8Array(await readFile(file))
  const head = bytes.subarray(0, HEAD_LIMIT)
  const seen = survey(head, file, bytes.length)
  if (isRefusal(seen)) return seen
  const absolute = seen.columns.find(({ name }) => name.toLowerCase().startsWith('a'))?.number ?? null
  const mapping = mappingOf(seen, { x: 'x', y: 'y', absolute })
  if (isRefusal(mapping)) return mapping
  const reader = openScan(head, file, mapping, bytes.length)
  if (isRefusal(reader)) return reader
  const first = reader.push(bytes)
  if (isRefusal(first)) return first
  const segments = [...first]
  const end = reader.end()
  return isRefusal(end) ? end : { rate_Hz: reader.rate_Hz, segments: [...segments, ...end.segments] }
}
