import { randomFrom } from '@trueloop/ground/numerics'
import type { Segment } from '../scan/index.ts'
import { memoryShelf, type TableShelf } from './field/index.ts'
import { indexAt } from './index-pulse.ts'
import { instrumentOf } from './instrument.ts'
import { checkScene, samplesOf } from './motion.ts'
import { noiseInTime } from './noise.ts'
import type { HoleScene } from './scene.ts'
import { signalOf } from './signal.ts'
import { type Truth, truthOf } from './truth.ts'

/** A whole recording with what is really there; x, y and index in recorded units, all of one length. */
export interface Recording {
  readonly rate_Hz: number
  readonly x: Float64Array
  readonly y: Float64Array
  readonly index: Float64Array
  readonly truth: Truth
}

/**
 * Simulates the recording of a rotating probe in a hole. The same scene and seed give the same bits everywhere.
 * Throws RangeError for a scene that describes no recording, or whose field has no answer (see notReady).
 */
export function generate(scene: HoleScene, seed: number, shelf: TableShelf = memoryShelf()): Recording {
  checkScene(scene)
  const samples = samplesOf(scene)
  const [segment] = segmentsOf(scene, { seed, shelf }, samples)
  const { x, y } = segment!.channels[0]!
  return { rate_Hz: scene.recorder.rate_Hz, x, y, index: segment!.aux.index!, truth: truthOf(scene) }
}

/** The same recording in segments of so many samples (the last one shorter), made one at a time. */
export const generateSegments = (scene: HoleScene, seed: number, samplesPerSegment: number): Generator<Segment> =>
  segmentsOf(scene, { seed, shelf: memoryShelf() }, samplesPerSegment)

interface Made {
  readonly seed: number
  readonly shelf: TableShelf
}

function* segmentsOf(scene: HoleScene, made: Made, samplesPerSegment: number): Generator<Segment> {
  checkScene(scene)
  if (!(samplesPerSegment >= 1)) throw new RangeError(`a segment has a sample or more, not ${samplesPerSegment}`)
  const samples = samplesOf(scene)
  const write = writerOf(scene, made)
  for (let first = 0; first < samples; first += samplesPerSegment) {
    const length = Math.min(samplesPerSegment, samples - first)
    const columns = { x: new Float64Array(length), y: new Float64Array(length), index: new Float64Array(length) }
    for (let i = 0; i < length; i++) write(first + i, i, columns)
    const { x, y, index } = columns
    yield { first, channels: [{ x, y }], aux: { index } }
  }
}

interface Columns {
  readonly x: Float64Array
  readonly y: Float64Array
  readonly index: Float64Array
}

/** Writes sample number `sample` at place `i` of the columns; to be called for every sample in order. */
function writerOf(scene: HoleScene, { seed, shelf }: Made): (sample: number, i: number, to: Columns) => void {
  const random = randomFrom(`rehearse ${seed}`)
  const signal = signalOf(scene, random.fork('signal'), shelf)
  const noise = noiseInTime(scene, random.fork('time'))
  const instrument = instrumentOf(scene)
  const sum = { x: 0, y: 0 }
  return (sample, i, to) => {
    const place = signal(sample / scene.recorder.rate_Hz, sum)
    noise(sample, sum)
    instrument(place, sum)
    to.x[i] = sum.x
    to.y[i] = sum.y
    to.index[i] = indexAt(scene, place.turn)
  }
}
