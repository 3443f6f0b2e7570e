import { atan2, median, PI } from '@trueloop/ground/numerics'
import { isRefusal, type Result } from '@trueloop/ground/refusal'
import type { LoopTechnique } from '../plan/index.ts'
import { DropLog, TimeLine } from '../signal/index.ts'
import { refuse } from './codes.ts'
import type { Examination, Indication } from './examination.ts'
import { stillOf } from './extent.ts'
import { farthestPair, Hull, type HullPoint } from './hull.ts'
import type { Run } from './recipe.ts'

/** Number of the method; changes whenever a finding changes. */
export const LOOP_METHOD = 1

export interface LoopExamination {
  readonly technique: LoopTechnique
  readonly place: string
  readonly rate_Hz: number
  readonly recording: string
}

/** Points kept for the drawing of the loop; every other one is left out when there are more. */
const MOST_DRAWN = 2048

/**
 * Opens the examination of a recording without a position: the time ruler, no standardization. One loop, measured in the
 * recorded unit by its farthest pair of points; no size, no proposal, position unknown. The background is the quiet of
 * the recording itself: the median distance of its points from their median place, which a slow or fast hand does not
 * change.
 */
export function openLoop(input: LoopExamination): Result<Run> {
  const drops = new DropLog()
  const loop = new LoopStream()
  const line = new TimeLine(input.rate_Hz, drops, ({ first, x, y, ok }) => {
    for (let i = 0; i < x.length; i++) if (ok[i] === 1) loop.add({ x: x[i]!, y: y[i]!, sample: first + i })
  })
  return {
    take: (segment) => {
      const taken = line.take(segment)
      return isRefusal(taken) ? taken : []
    },
    close: () => {
      const ended = line.end()
      if (isRefusal(ended)) return ended
      const examination = closeLoop(input, loop, { samples: line.samples, drops })
      return isRefusal(examination) ? examination : { events: [], examination }
    }
  }
}

class LoopStream {
  readonly hull = new Hull()
  drawn: HullPoint[] = []
  #step = 1
  #count = 0

  add(point: HullPoint): void {
    this.hull.add(point)
    if (this.#count++ % this.#step === 0) this.drawn.push(point)
    if (this.drawn.length < MOST_DRAWN) return
    this.drawn = this.drawn.filter((_, i) => i % 2 === 0)
    this.#step *= 2
  }

  get step(): number {
    return this.#step
  }
}

function closeLoop(
  input: LoopExamination,
  loop: LoopStream,
  { samples, drops }: { readonly samples: number; readonly drops: DropLog }
): Result<Examination> {
  const pair = farthestPair(loop.hull.corners())
  if (pair === undefined) {
    return refuse('examine/nothing-to-see', {
      found: `${samples} samples that are all one point`,
      needed: 'a signal that moves',
      remedy: 'check probe, cable and columns'
    })
  }
  const still = stillOf({ x: widthOf(loop, ({ x }) => x), y: widthOf(loop, ({ y }) => y) })
  if (still.length > 0) return dead(still)
  const background = backgroundOf(loop.drawn)
  const span = distance(pair[0], pair[1])
  const ratio = background > 0 ? span / background : Number.MAX_VALUE
  const stands = ratio >= input.technique.min_signal_to_noise
  return {
    kind: 'examination',
    version: 1,
    method: LOOP_METHOD,
    application: 'loop',
    subject: input.place,
    amplitudeUnit: 'recorded',
    recording: input.recording,
    standardization: 'none',
    position: { axial: 'unknown', axialUncertainty_m: 'unknown', angle: 'unknown' },
    zones: [],
    coverage: { samples, revolutions: 0, revolutionsInMetal: 0, contact: [] },
    dropped: drops.entries().map((drop) => ({ ...drop })),
    indications: stands ? [indicationOf(input, loop, { pair, span, ratio })] : [],
    refusals: [],
    notes: ['no standardization: amplitude in the recorded unit, no size, no proposal', 'position unknown']
  }
}

const widthOf = (loop: LoopStream, of: (point: HullPoint) => number): number => {
  const values = loop.hull.corners().map(of)
  return Math.max(...values) - Math.min(...values)
}

const dead = (still: readonly string[]) =>
  refuse('examine/dead-signal', {
    found: `channel ${still.join(' and ')} stands still`,
    needed: 'both channels move',
    remedy: 'check probe, cable and columns'
  })

interface Met {
  readonly pair: readonly [HullPoint, HullPoint]
  readonly span: number
  readonly ratio: number
}

const WITHHELD = ['no standardization']

function indicationOf(input: LoopExamination, loop: LoopStream, { pair, span, ratio }: Met): Indication {
  const angle = atan2(pair[1].y - pair[0].y, pair[1].x - pair[0].x)
  return {
    id: `${input.place}/1`,
    zone: 'unknown',
    layer: 0,
    place: 'unknown',
    amplitude: span,
    matched: span,
    phase_rad: angle < 0 ? angle + PI : angle,
    lobeOrder: 1,
    angle_rad: 'unknown',
    z_m: 'unknown',
    z0_m: 'unknown',
    z1_m: 'unknown',
    ruler: pair[0].sample,
    revolutions: 0,
    signalToNoise: ratio,
    crossedAlarm: false,
    class: 'undecided',
    evidence: [
      {
        what: 'span',
        sentence: `The farthest two points of the recording lie ${span.toPrecision(4)} apart, ${ratio > 1e6 ? 'with no background' : `${ratio.toFixed(0)} times the background`}.`,
        speaks: 'for'
      }
    ],
    size: { depth: 'withheld', extent: 'withheld', withheld: WITHHELD },
    proposal: 'no proposal: no standardization',
    snippet: {
      step: loop.step / input.rate_Hz,
      stepUnit: 's',
      x: loop.drawn.map(({ x }) => x),
      y: loop.drawn.map(({ y }) => y),
      along: [],
      alongFrom: 0
    }
  }
}

/** Median distance between neighbors a few drawn points apart would follow the hand's speed; this one does not. */
function backgroundOf(points: readonly HullPoint[]): number {
  if (points.length < 3) return 0
  const center = { x: median(points.map(({ x }) => x)), y: median(points.map(({ y }) => y)) }
  return median(points.map((point) => distance(point, center)))
}

const distance = (
  a: { readonly x: number; readonly y: number },
  b: { readonly x: number; readonly y: number }
): number => Math.sqrt((a.x - b.x) * (a.x - b.x) + (a.y - b.y) * (a.y - b.y))
