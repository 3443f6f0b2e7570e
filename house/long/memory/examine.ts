/**
 * The program that is measured: `node examine.mjs < recording`. It reads its standard input into one buffer, examines it
 * through the rooms' public doors (reader, recipe of the fastener hole) with a standardization from the demonstration's
 * reference scan, and prints what came of it as one JSON line.
 */
import { readSync } from 'node:fs'
import { isRefusal, type Result } from '../../../ground/refusal/index.ts'
import { openHole, type Run } from '../../../job/examine/index.ts'
import { demoSheet, generate } from '../../../job/rehearse/index.ts'
import { mappingOf, openScan, type ScanReader, type Segment, survey } from '../../../job/scan/index.ts'
import { openHoleReference, type Standardization } from '../../../job/standardize/index.ts'
import { sceneNamed } from './recording.ts'

const name = 'standard input'
const buffer = new Uint8Array(1 << 16)
const sheet = demoSheet()
const events: Record<string, number> = {}

function sound<T>(result: Result<T>): T {
  if (isRefusal(result)) throw new Error(JSON.stringify(result))
  return result
}

function standardized(): Standardization {
  const { rate_Hz, x, y, index } = generate(sceneNamed('reference-start.wav'), 1)
  const { technique, equipment, reference_standard: standard } = sheet
  const run = sound(openHoleReference({ technique, standard, equipment, rate_Hz, indexed: true }))
  sound(run.take({ first: 0, channels: [{ x, y }], aux: { index } }))
  return sound(run.close()).standardization
}

/** Bytes that came, 0 at the end. A pipe that has nothing yet may answer "again". */
function readSome(): number {
  for (;;) {
    try {
      return readSync(0, buffer, 0, buffer.length, null)
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code !== 'EAGAIN') throw error
      Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, 1)
    }
  }
}

interface Opened {
  readonly reader: ScanReader
  readonly run: Run
}

function opened(head: Uint8Array): Opened {
  const seen = sound(survey(head, name))
  const mapping = sound(mappingOf(seen, { x: 0, y: 1, index: 2 }))
  const reader = sound(openScan(head, name, mapping))
  const { technique, equipment, holes } = sheet
  const standardization = standardized()
  const names = { standardizationName: 'reference', recording: name }
  const { rate_Hz } = reader
  const hole = holes[0]!
  const run = sound(openHole({ ...names, technique, standardization, hole, equipment, rate_Hz, indexed: true }))
  return { reader, run }
}

function take(run: Run, segments: readonly Segment[]): void {
  for (const segment of segments) {
    for (const { kind } of sound(run.take(segment))) events[kind] = (events[kind] ?? 0) + 1
  }
}

const length = readSome()
const { reader, run } = opened(buffer.slice(0, length))
for (let n = length; n > 0; n = readSome()) take(run, sound(reader.push(buffer.subarray(0, n))))
const { segments, scan } = sound(reader.end())
take(run, segments)
const { coverage, zones, indications, refusals, dropped, position, notes } = sound(run.close()).examination
const { rss, heapTotal, external, arrayBuffers } = process.memoryUsage()
const told = {
  samples: scan.samples,
  revolutions: coverage.revolutions,
  revolutionsInMetal: coverage.revolutionsInMetal,
  events,
  indications: indications.length,
  refusals: refusals.map(({ code }) => code),
  zones: zones.map(({ zone, state }) => `${zone}: ${state}`),
  dropped: dropped.length,
  axial: position.axial,
  notes,
  memory: { rss, heapTotal, external, arrayBuffers },
  peak_kB: process.resourceUsage().maxRSS
}
process.stdout.write(`${JSON.stringify(told)}\n`)
