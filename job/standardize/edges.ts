import type { Result } from '@trueloop/ground/refusal'
import { UNIT } from '../signal/index.ts'
import { refuse } from './codes.ts'

/** The sliding mean of a scan at some ruler points, ascending: columns `[n]`, recorded units. */
export interface MeanTrace {
  readonly at: Float64Array
  readonly x: Float64Array
  readonly y: Float64Array
}

/** Ruler points between two elements of a mean trace: every one, so that a part turned by whole points has the same edges. */
export const TRACE_STEP = 1

interface Point {
  readonly x: number
  readonly y: number
}

/** Where the probe goes into the metal and comes out of it, at which ruler points, and the two steps. */
export interface Edges {
  readonly entry: number
  readonly exit: number
  /** air less metal, recorded units, at each face and their mean */
  readonly entryStep: Point
  readonly exitStep: Point
  readonly step: Point
  readonly metal: Point
}

const LEAST_STEP_OVER_WANDER = 8
const ROUNDS = 4
/** Points left out beside an edge when a level is taken. */
const CLEAR = 2 * UNIT

/**
 * Edges of a scan from its sliding mean: where the way from the level of the air to the level of the metal is half done.
 * Refuses `standardize/no-entry-step`, `standardize/no-exit-step`.
 */
export function findEdges(trace: MeanTrace): Result<Edges> {
  const n = trace.at.length
  const perUnit = UNIT / (trace.at[1]! - trace.at[0]!)
  if (!(n >= 4 * perUnit)) return noStep('entry')
  const air0 = levelOf(trace, 0, perUnit / 2)
  const air1 = levelOf(trace, n - perUnit / 2, n)
  let metal = farthest(trace, air0)
  const wander = wanderOf(trace, perUnit)
  if (distance(metal, air0) < LEAST_STEP_OVER_WANDER * wander || distance(metal, air0) === 0) return noStep('entry')
  let entry = Number.NaN
  let exit = Number.NaN
  let before: Between | undefined
  for (let round = 0; round < ROUNDS; round++) {
    entry = crossing(trace, { air: air0, metal }, 1)
    exit = crossing(trace, { air: air1, metal }, -1)
    if (Number.isNaN(entry)) return noStep('entry')
    if (Number.isNaN(exit) || exit - entry < UNIT) return noStep('exit')
    const clear = Math.min(CLEAR, (exit - entry) / 4)
    const now = between(trace, entry + clear, exit - clear)
    if (before?.from === now.from && before.to === now.to) break // the same level, and so the same edges from here on
    metal = levelOf(trace, now.from, now.to)
    before = now
  }
  if (distance(air1, metal) < 0.5 * distance(air0, metal)) return noStep('exit')
  const entryStep = less(air0, metal)
  const exitStep = less(air1, metal)
  const step = { x: 0.5 * (entryStep.x + exitStep.x), y: 0.5 * (entryStep.y + exitStep.y) }
  return { entry, exit, entryStep, exitStep, step, metal }
}

const less = (a: Point, b: Point): Point => ({ x: a.x - b.x, y: a.y - b.y })
const distance = (a: Point, b: Point): number => Math.sqrt((a.x - b.x) * (a.x - b.x) + (a.y - b.y) * (a.y - b.y))

function levelOf({ x, y }: MeanTrace, from: number, to: number): Point {
  let sx = 0
  let sy = 0
  for (let i = from; i < to; i++) {
    sx += x[i]!
    sy += y[i]!
  }
  return { x: sx / (to - from), y: sy / (to - from) }
}

interface Between {
  readonly from: number
  readonly to: number
}

/** Elements between two ruler points, at least one. */
function between({ at }: MeanTrace, from: number, to: number): Between {
  const a = firstFrom(at, from)
  return { from: a, to: Math.max(a + 1, firstFrom(at, to)) }
}

/** The first element at a ruler point or behind it; the length where there is none. */
function firstFrom(at: Float64Array, point: number): number {
  let [low, high] = [0, at.length]
  while (low < high) {
    const middle = (low + high) >>> 1
    if (at[middle]! < point) low = middle + 1
    else high = middle
  }
  return low
}

function farthest(trace: MeanTrace, from: Point): Point {
  const best = farthestElement(trace, from)
  return best < 0 ? from : { x: trace.x[best]!, y: trace.y[best]! }
}

/** −1 where all are at the point itself. By itself, so that the engine keeps what it made of the loop. */
function farthestElement({ x, y }: MeanTrace, from: Point): number {
  let best = -1
  let most = 0
  let square = 0
  for (let i = 0; i < x.length; i++) {
    const dx = x[i]! - from.x
    const dy = y[i]! - from.y
    const now = dx * dx + dy * dy
    if (now <= square) continue
    const apart = Math.sqrt(now)
    if (apart > most) {
      most = apart
      square = now
      best = i
    }
  }
  return best
}

/** How far the mean wanders in the first revolution: what a step must stand above. */
function wanderOf(trace: MeanTrace, points: number): number {
  const level = levelOf(trace, 0, points)
  let sum = 0
  for (let i = 0; i < points; i++) {
    const d = distance({ x: trace.x[i]!, y: trace.y[i]! }, level)
    sum += d * d
  }
  return Math.sqrt(sum / points)
}

/** Where the share of the way from air to metal passes one half: the first time going in (1), the last going out (−1). */
function crossing(
  trace: MeanTrace,
  { air, metal }: { readonly air: Point; readonly metal: Point },
  sense: 1 | -1
): number {
  const way = less(metal, air)
  const square = way.x * way.x + way.y * way.y
  const share = (i: number) => ((trace.x[i]! - air.x) * way.x + (trace.y[i]! - air.y) * way.y) / square
  const start = sense === 1 ? 0 : trace.at.length - 1
  let before = share(start)
  for (let i = start + sense; i >= 0 && i < trace.at.length; i += sense) {
    const now = share(i)
    if (before < 0.5 && now >= 0.5) {
      const back = (now - 0.5) / (now - before)
      return trace.at[i]! + back * (trace.at[i - sense]! - trace.at[i]!)
    }
    before = now
  }
  return Number.NaN
}

const noStep = (which: 'entry' | 'exit') =>
  refuse(which === 'entry' ? 'standardize/no-entry-step' : 'standardize/no-exit-step', {
    found: `no step between air and metal at the ${which} face`,
    needed: 'a reference scan that begins in air before the entry face and ends in air beyond the exit face',
    remedy: 'scan the reference standard again, from air through the whole hole into air'
  })
