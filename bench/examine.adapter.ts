import { readFileSync, statSync } from 'node:fs'
import { basename } from 'node:path'
import { isRefusal, type Result } from '@trueloop/ground/refusal'
import type { Task } from '@trueloop/host/crew'
import { type Examination, openRun } from '@trueloop/job/examine'
import { type Hole, type HoleSheet, sheetOf } from '@trueloop/job/plan'
import {
  HEAD_LIMIT,
  type Mapping,
  mappingOf,
  openScan,
  release,
  type ScanReader,
  type Segment,
  survey
} from '@trueloop/job/scan'
import { openHoleReference } from '@trueloop/job/standardize'
import type { TrialSetup } from '../apps/cli/trial/setup.ts'
import { trialSheet } from '../apps/cli/trial/sheet.ts'

/** One job of the benchmark: paths. Of the scans, those named like the reference are of the reference standard. */
export interface BenchJob {
  readonly name: string
  readonly setup: string
  readonly reference: string
  readonly scans: readonly string[]
}

/** Bytes handed to the reader at a time, as from a file. */
const piece = 1 << 16

/**
 * Standardizes a job on its reference scan, with the technique of its set-up unchanged, through the public indexes of
 * the rooms -> its scans as tasks. What the columns and the rate are is settled on the reference scan, once for the job.
 */
export function tasksOf({ name, setup, reference, scans }: BenchJob): readonly Task[] {
  const sheet = sheetFor(name, JSON.parse(readFileSync(setup, 'utf8')) as TrialSetup)
  const bytes = readFileSync(reference)
  const mapping = mappingFor(bytes)
  const { technique, equipment, reference_standard: standard } = sheet
  const reader = opened(bytes, mapping)
  const { rate_Hz } = reader
  const run = sound(openHoleReference({ technique, standard, equipment, rate_Hz, indexed: true }))
  for (const segment of decoded(bytes, reader)) sound(run.take(segment))
  const { standardization } = sound(run.close())
  const common = { technique, equipment, standardization, standardizationName: 'reference', rate_Hz, indexed: true }
  return scans.map((path) => {
    const recording = basename(path, '.wav')
    const source = { path, bytes: statSync(path).size }
    const hole = holeFor(sheet, recording)
    return {
      name: path,
      source,
      mapping,
      recipe: { application: 'fastener hole', input: { ...common, hole, recording } }
    }
  })
}

function sheetFor(name: string, setup: TrialSetup): HoleSheet {
  const reading = sheetOf(trialSheet({ name, setup, fileOf: (one) => `${one}.wav` }))
  if ('refusals' in reading) throw new Error(JSON.stringify(reading.refusals))
  return reading.sheet as HoleSheet
}

/** The reference scan is examined like a hole of the standard's thickness, in one layer. */
function holeFor({ holes, reference_standard: standard }: HoleSheet, recording: string): Hole {
  const hole = holes.find(({ id }) => id === recording)
  if (hole !== undefined) return hole
  const [any] = holes
  if (any === undefined) throw new Error('a set-up without holes')
  const { hole_diameter_mm: diameter_mm, thickness_mm: grip_mm, interfaces_mm, metal } = standard
  return {
    ...any,
    id: recording,
    diameter_mm,
    grip_mm,
    interfaces_mm,
    layers: [metal, ...interfaces_mm.map(() => metal)]
  }
}

/** The README of the trial states the channels: x, y, index. */
function mappingFor(reference: Uint8Array): Mapping {
  const seen = sound(survey(reference.subarray(0, HEAD_LIMIT), 'reference.wav', reference.length))
  return sound(mappingOf(seen, { x: 0, y: 1, index: 2 }))
}

const opened = (bytes: Uint8Array, mapping: Mapping): ScanReader =>
  sound(openScan(bytes.subarray(0, HEAD_LIMIT), 'recording.wav', mapping, bytes.length))

/** All segments of a recording, in order. */
function decoded(bytes: Uint8Array, reader: ScanReader): readonly Segment[] {
  const segments: Segment[] = []
  for (let at = 0; at < bytes.length; at += piece) segments.push(...sound(reader.push(bytes.subarray(at, at + piece))))
  return [...segments, ...sound(reader.end()).segments]
}

/** An examination, and how long reading with decoding, and examining, took, s. */
export interface Timed {
  readonly examination: Examination
  readonly read_s: number
  readonly compute_s: number
}

/** Examines one recording in this thread, its segments decoded before: the peer's compute time leaves reading out too. */
export function examineDecoded({ source, mapping, recipe }: Task): Timed {
  if (source instanceof Uint8Array) throw new Error('a benchmark reads files')
  const start = performance.now()
  const bytes = readFileSync(source.path)
  const reader = opened(bytes, mapping)
  const segments = decoded(bytes, reader)
  const read = performance.now()
  const run = sound(openRun(recipe))
  for (const segment of segments) {
    sound(run.take(segment))
    release(segment)
  }
  const { examination } = sound(run.close())
  const end = performance.now()
  return { examination, read_s: (read - start) / 1000, compute_s: (end - read) / 1000 }
}

/** What an examination says, as the peer says it: samples read, and the angle of each call (relevant or undecided), degrees. */
export function answerOf({ coverage, indications }: Examination) {
  const calls = indications.filter((one) => one.class === 'relevant' || one.class === 'undecided')
  const angles_deg = calls.map(({ angle_rad }) => (angle_rad === 'unknown' ? null : (angle_rad * 180) / Math.PI))
  return { samples: coverage.samples, angles_deg }
}

export function sound<T>(result: Result<T>): T {
  if (isRefusal(result)) throw new Error(JSON.stringify(result))
  return result
}
