import { open, readFile } from 'node:fs/promises'
import { isRefusal, located, type Refusal, type Result, refuser } from '@trueloop/ground/refusal'
import type { Columns } from '@trueloop/job/rehearse'
import { type SampleFormat, writeWave } from '@trueloop/job/rehearse'
import { HEAD_LIMIT, type Mapping, mappingOf, type Overrides, openScan, type Survey, survey } from '@trueloop/job/scan'
import { codes } from '../codes.ts'
import { unreadable } from '../terminal/unreadable.ts'

const refuse = refuser(codes)

export interface Channels {
  readonly rate_Hz: number
  readonly channels: readonly Float64Array[]
  readonly format: SampleFormat
}

/** Writes a WAV file; the rate in its header is the nearest whole number of Hz. */
export async function writeChannels(path: string, { rate_Hz, channels, format }: Channels): Promise<void> {
  const handle = await open(path, 'w')
  try {
    for (const piece of writeWave(Math.round(rate_Hz), channels, format)) await handle.write(piece)
  } finally {
    await handle.close()
  }
}

/** A recording of a job as a whole, and the form that others beside it have to have. */
export interface WaveRecording {
  readonly columns: Columns
  readonly form: WaveLike
}

/** How a WAV file of the job is laid out. */
export interface WaveLike {
  readonly format: SampleFormat
  readonly mapping: Mapping
  /** samples of the file, where they are none that is written here */
  readonly samples?: string
}

/**
 * Reads a WAV recording of x, y and at most an index. Refuses cli/other-form for every other, cli/unreadable-file, and what
 * the scan refuses.
 */
export async function readWave(path: string, columns: Overrides | undefined): Promise<Result<WaveRecording>> {
  const bytes = await bytesIn(path)
  if (isRefusal(bytes)) return bytes
  const head = bytes.subarray(0, HEAD_LIMIT)
  const found = survey(head, path, bytes.length)
  if (isRefusal(found)) return located(found, { file: path })
  const mapping = mappingOf(found, columns)
  if (isRefusal(mapping)) return located(mapping, { file: path })
  const no = otherForm(found, mapping, path)
  if (no !== undefined) return no
  const read = wholeOf(bytes, path, mapping)
  return isRefusal(read) ? located(read, { file: path }) : { columns: read, form: formOf(found, mapping) }
}

function joined(parts: readonly Float64Array[]): Float64Array {
  const all = new Float64Array(parts.reduce((sum, { length }) => sum + length, 0))
  let at = 0
  for (const part of parts) {
    all.set(part, at)
    at += part.length
  }
  return all
}

async function bytesIn(path: string): Promise<Result<Uint8Array>> {
  try {
    return await readFile(path)
  } catch (error) {
    return unreadable(path, error)
  }
}

function wholeOf(bytes: Uint8Array, name: string, mapping: Mapping): Result<Columns> {
  const reader = openScan(bytes.subarray(0, HEAD_LIMIT), name, mapping, bytes.length)
  if (isRefusal(reader)) return reader
  const pushed = reader.push(bytes)
  if (isRefusal(pushed)) return pushed
  const end = reader.end()
  if (isRefusal(end)) return end
  const segments = [...pushed, ...end.segments]
  const index = segments.flatMap(({ aux }) => (aux.index === undefined ? [] : [aux.index]))
  return {
    rate_Hz: reader.rate_Hz,
    x: joined(segments.map(({ channels }) => channels[0]!.x)),
    y: joined(segments.map(({ channels }) => channels[0]!.y)),
    ...(mapping.index === undefined ? {} : { index: joined(index) })
  }
}

function formOf({ details }: Survey, mapping: Mapping): WaveLike {
  const samples = details.samples ?? ''
  const format = known[samples]
  return format === undefined ? { format: 'float32', mapping, samples } : { format, mapping }
}

/** Sample types as a survey names them. */
const known: Readonly<Record<string, SampleFormat>> = {
  '32-bit floating point': 'float32',
  '64-bit floating point': 'float64',
  '16-bit PCM': 'pcm16',
  '24-bit PCM': 'pcm24',
  '32-bit PCM': 'pcm32'
}

/** The columns of a recording in the order of its form. */
export function channelsOf({ x, y, index }: Columns, { mapping }: WaveLike): readonly Float64Array[] {
  const channels: Float64Array[] = []
  channels[mapping.x] = x
  channels[mapping.y] = y
  if (mapping.index !== undefined && index !== undefined) channels[mapping.index] = index
  return channels
}

function otherForm(found: Survey, mapping: Mapping, file: string): Refusal | undefined {
  const used = ['x', 'y', ...(mapping.index === undefined ? [] : ['index'])]
  if (found.format === 'wave' && found.columns.length === used.length) return undefined
  return refuse('cli/other-form', {
    found: `a recording in the format ${found.format} with ${found.columns.length} columns`,
    needed: `WAV with ${used.join(', ')} and nothing else: what is mixed in must look like it`,
    remedy: 'export the recordings of the job as WAV with these channels',
    where: { file }
  })
}
