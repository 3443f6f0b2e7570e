/**
 * Examines a track of `--samples N`: a painted meter of the demonstration's kind, gone over again and again, each time a
 * meter farther on. Prints one JSON line: seconds of the chain alone, seconds of hashing the same samples, memory on the way.
 */
import { createHash } from 'node:crypto'
import { isRefusal, type Result } from '@trueloop/ground/refusal'
import { openWeld } from '@trueloop/job/examine'
import {
  type TrackRecording,
  type TrackScene,
  weldDemoRecording,
  weldDemoRecordings,
  weldDemoSheet
} from '@trueloop/job/rehearse'
import type { Segment } from '@trueloop/job/scan'
import { openShimRun, type ShimReading, type Standardization, standardizeWeld } from '@trueloop/job/standardize'

const sound = <T>(result: Result<T>): T => {
  if (isRefusal(result)) throw new Error(JSON.stringify(result))
  return result as T
}

const sheet = weldDemoSheet()
const all = [...weldDemoRecordings(1)]
const made = (file: string, more: Partial<TrackScene> = {}): TrackRecording => {
  const one = all.find((each) => each.file === file)
  if (one === undefined) throw new Error(`no ${file} in the demonstration`)
  return weldDemoRecording({ ...one, scene: { ...one.scene, ...more } })
}
const segmentOf = ({ x, y, position, absolute }: TrackRecording, first: number, offset: number): Segment => ({
  first,
  channels: [{ x, y }],
  aux: {
    position: position.map((at) => at + offset),
    ...(absolute === undefined ? {} : { absolute })
  }
})

function standardized(): Standardization {
  const { technique, reference_standard: standard, equipment } = sheet
  const readings: ShimReading[] = []
  let rate_Hz = 0
  for (const { file, shim_mm } of sheet.recordings.filter((one) => one.of === 'reference')) {
    const recording = made(file)
    rate_Hz = recording.rate_Hz
    const run = sound(openShimRun({ technique, standard, equipment, rate_Hz, shim_mm: shim_mm ?? 0 }))
    sound(run.take(segmentOf(recording, 0, 0)))
    readings.push(sound(run.close()))
  }
  return sound(standardizeWeld({ technique, standard, equipment, rate_Hz }, readings)).standardization
}

const samples = Number(process.argv[2])
// plain plate under paint: what stands out is kept as a candidate (bounded), and is no leak
const once = made('lower-toe-left.csv', { nuisances: [], flaws: [] })
/** There and, mirrored, back: so that no seam is a step that looks like a flaw. */
const both = (values: Float64Array, back = (value: number): number => value) =>
  Float64Array.from([...values, ...[...values].reverse().map(back)])
const end_m = once.position.at(-1) ?? 0
const piece: TrackRecording = {
  ...once,
  ...{ x: both(once.x), y: both(once.y), position: both(once.position, (at) => 2 * end_m + 5e-5 - at) },
  ...(once.absolute === undefined ? {} : { absolute: both(once.absolute) })
}
const { length } = piece.x
const long_m = 2 * end_m + 1e-4
const pieces = Math.ceil(samples / length)
const run = sound(
  openWeld({
    ...{ technique: sheet.technique, standard: sheet.reference_standard, equipment: sheet.equipment },
    ...{ standardization: standardized(), standardizationName: 'block', rate_Hz: piece.rate_Hz, recording: 'track' },
    track: { id: 'long', length_mm: 1e3 * long_m * pieces }
  })
)
const hash = createHash('sha256')
const heap = (): number => {
  globalThis.gc?.()
  const { heapUsed, arrayBuffers } = process.memoryUsage()
  return heapUsed + arrayBuffers
}
let chain_s = 0
let hash_s = 0
let early = 0
for (let k = 0; k < pieces; k++) {
  const segment = segmentOf(piece, k * length, k * long_m)
  const from = performance.now()
  sound(run.take(segment))
  const between = performance.now()
  for (const one of [segment.channels[0]?.x, segment.channels[0]?.y, segment.aux.position, segment.aux.absolute])
    if (one !== undefined) hash.update(new Uint8Array(one.buffer, one.byteOffset, one.byteLength))
  chain_s += (between - from) / 1e3
  hash_s += (performance.now() - between) / 1e3
  if (k === Math.floor(pieces / 10)) early = heap()
}
const late = heap()
const from = performance.now()
const { examination } = sound(run.close())
chain_s += (performance.now() - from) / 1e3
const told = {
  ...{ samples: pieces * length, length_m: long_m * pieces, chain_s, hash_s, early_bytes: early, late_bytes: late },
  ...{ indications: examination.indications.length, zones: examination.zones.length, digest: hash.digest('hex') }
}
process.stdout.write(`${JSON.stringify(told)}\n`)
