import { isRefusal, type Result } from '@trueloop/ground/refusal'
import { openHole } from '@trueloop/job/examine'
import { type Hole, type HoleSheet, sheetOf } from '@trueloop/job/plan'
import {
  HEAD_LIMIT,
  type Mapping,
  mappingOf,
  openScan,
  type ScanReader,
  type Segment,
  survey
} from '@trueloop/job/scan'
import { openHoleReference, type Standardization } from '@trueloop/job/standardize'
import type { TrialSetup } from '../apps/cli/trial/setup.ts'
import { trialSheet } from '../apps/cli/trial/sheet.ts'

export type { TrialSetup }

/** What our examine says of one recording: how many samples it read and where its calls lie. */
export interface Examined {
  readonly samples: number
  /** angle of each call (relevant or undecided) from the index pulse, in the recording's own sense, degrees */
  readonly angles_deg: readonly number[]
}

/** Examines the bytes of one recording with a standardization already made. */
export type Examiner = (recording: Uint8Array) => Examined

/** Bytes handed to the reader at a time, as from a file: what the archive's own reading hands on. */
const piece = 1 << 16

/**
 * The bytes of the reference scan (WAV: x, y, index) and the set-up -> an examiner, through the public indexes of the
 * rooms, with the technique of the set-up unchanged. Reading the bytes belongs to it: the peer's time includes reading.
 * What the columns are is settled on the reference scan, once for the job; the peer knows it from the beginning.
 */
export function examinerFor(reference: Uint8Array, setup: TrialSetup): Examiner {
  const sheet = sheetFor(setup)
  const mapping = mappingFor(reference)
  const standardization = standardized(reference, mapping, sheet)
  const [hole] = sheet.holes
  if (hole === undefined) throw new Error('a set-up without holes')
  return (recording) => examined(recording, { sheet, mapping, standardization, hole })
}

function sheetFor(setup: TrialSetup): HoleSheet {
  const reading = sheetOf(trialSheet({ name: 'benchmark', setup, fileOf: (name) => `${name}.wav` }))
  if ('refusals' in reading) throw new Error(JSON.stringify(reading.refusals))
  return reading.sheet as HoleSheet
}

/** The README of the trial states the channels: x, y, index. */
function mappingFor(reference: Uint8Array): Mapping {
  const seen = sound(survey(reference.subarray(0, HEAD_LIMIT), 'reference.wav', reference.length))
  return sound(mappingOf(seen, { x: 0, y: 1, index: 2 }))
}

function standardized(reference: Uint8Array, mapping: Mapping, sheet: HoleSheet): Standardization {
  const { technique, reference_standard: standard, equipment } = sheet
  const reader = opened(reference, mapping)
  const run = sound(openHoleReference({ technique, standard, equipment, rate_Hz: reader.rate_Hz, indexed: true }))
  feed(reference, reader, (segment) => run.take(segment))
  return sound(run.close()).standardization
}

interface Prepared {
  readonly sheet: HoleSheet
  readonly mapping: Mapping
  readonly standardization: Standardization
  readonly hole: Hole
}

function examined(recording: Uint8Array, { sheet, mapping, standardization, hole }: Prepared): Examined {
  const { technique, equipment } = sheet
  const reader = opened(recording, mapping)
  const names = { standardizationName: 'reference', recording: 'recording' }
  const run = sound(
    openHole({ ...names, technique, standardization, hole, equipment, rate_Hz: reader.rate_Hz, indexed: true })
  )
  const samples = feed(recording, reader, (segment) => run.take(segment))
  const { indications } = sound(run.close()).examination
  const calls = indications.filter((one) => one.class === 'relevant' || one.class === 'undecided')
  const degrees = (angle: number | 'unknown') => (angle === 'unknown' ? Number.NaN : (angle * 180) / Math.PI)
  return { samples, angles_deg: calls.map((one) => degrees(one.angle_rad)) }
}

const opened = (bytes: Uint8Array, mapping: Mapping): ScanReader =>
  sound(openScan(bytes.subarray(0, HEAD_LIMIT), 'recording.wav', mapping, bytes.length))

/** Hands all on, piece by piece; returns the number of samples read. */
function feed(bytes: Uint8Array, reader: ScanReader, take: (segment: Segment) => Result<unknown>): number {
  const all = (segments: readonly Segment[]) => {
    for (const segment of segments) sound(take(segment))
  }
  for (let at = 0; at < bytes.length; at += piece) all(sound(reader.push(bytes.subarray(at, at + piece))))
  const { segments, scan } = sound(reader.end())
  all(segments)
  return scan.samples
}

function sound<T>(result: Result<T>): T {
  if (isRefusal(result)) throw new Error(JSON.stringify(result))
  return result
}
