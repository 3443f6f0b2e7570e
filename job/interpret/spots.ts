import { along, type Line, lineThrough, standing } from './line.ts'
import { peaksOf } from './peaks.ts'
import type { Weighing } from './statistic.kernel.ts'

/** A place on the wall that stands out by itself. */
export interface Spot {
  /** element of the sheet at its peak */
  readonly at: number
  readonly sign: 1 | -1
  /** deviations of the noise by which it stands out; 0 where only the alarm speaks */
  readonly statistic: number
  /** further maxima that are taken for the same flaw: elements of the sheet */
  readonly alike: readonly number[]
  /** its elements on the first and the last revolution where it stays at half its peak or more */
  readonly from: number
  readonly to: number
}

export interface Placing {
  /** signed statistic of every element */
  readonly statistic: Float64Array
  /** joined sizes, standardized */
  readonly x: Float64Array
  readonly y: Float64Array
  readonly perTurn: number
  readonly level: number
  /** elements by which a place may wander in angle from one revolution to the next */
  readonly wander: number
  /** what a flaw shows around itself, all round one revolution, `[perTurn]`, 1 in the middle; and how much freer it may be */
  readonly answer: Float64Array
  readonly freedom: number
  /** what may be left of a side lobe, as a share of what is predicted of it: its loop is no straight line */
  readonly residue: number
  /** elements by which a side lobe may lie beside its predicted place */
  readonly shift: number
  /** number of the layer an element lies in; the same for all where depth is not known */
  readonly layerOf: (element: number) => number
  /** revolutions between the two maxima of a short flaw at mid-bore; absent where it has but one */
  readonly twin?: number
  /** elements to each side within which the lobes of a place lie */
  readonly lobes: number
  /** revolutions beyond its ridge on which a place may still show */
  readonly beyond: number
  /** how sizes are weighed: the plane in which the noise is round, and the cone of a flaw in it */
  readonly weighing: Weighing
}

/** A spot with where it is on each revolution, by number from its peak: as long as it stays at half its peak or more. */
export interface Place extends Omit<Spot, 'from' | 'to'> {
  /** its direction, as the noise lets it be seen */
  readonly line: Line
  readonly ridge: ReadonlyMap<number, number>
}

/** A place that was taken off, with the first and the last element that it showed at. */
export interface Taken extends Place {
  readonly shown: { readonly first: number; readonly last: number }
}

/**
 * The places of a sheet, strongest first: maxima of the statistic that are neither side lobes of a stronger one, nor on
 * its ridge along the axis (at half its peak or more, in the same layer), nor the second maximum of a short flaw.
 * `before`: places that were taken off already; what is left of them is nothing new.
 */
export function placesOf(placing: Placing, before: readonly Taken[] = []): readonly Place[] {
  const { statistic } = placing
  const places: (Place & { alike: number[]; ridge: Map<number, number> })[] = []
  for (const at of peaksOf(statistic, placing)) {
    const sign = statistic[at]! < 0 ? -1 : 1
    const owner = places.find((one) => one.sign === sign && isSame(at, one, placing))
    if (owner !== undefined) join(owner, at, placing)
    if (owner !== undefined || before.some((one) => isLeftOf(at, one, placing))) continue
    if (places.some((one) => isSideLobe(at, one, placing))) continue
    const value = Math.abs(statistic[at]!)
    const line = lineThrough(placing.weighing, { x: placing.x[at]!, y: placing.y[at]! })
    places.push({ at, sign, statistic: value, alike: [], line, ridge: ridgeOf(at, line, placing) })
  }
  return places
}

/** A further maximum of a place: its own ridge is that of the place too. */
function join(
  owner: Place & { readonly alike: number[]; readonly ridge: Map<number, number> },
  at: number,
  placing: Placing
): void {
  owner.alike.push(at)
  const rows = Math.round((at - owner.at) / placing.perTurn)
  for (const [row, on] of ridgeOf(at, owner.line, placing))
    if (!owner.ridge.has(row + rows)) owner.ridge.set(row + rows, on)
}

/** What is told of a place; its ridge by its first and last element. */
export const spotOf = ({ at, sign, statistic, alike, ridge }: Place): Spot => ({
  at,
  sign,
  statistic,
  alike,
  ...endsOf(ridge)
})

function endsOf(ridge: ReadonlyMap<number, number>): { readonly from: number; readonly to: number } {
  let from = Number.POSITIVE_INFINITY
  let to = Number.NEGATIVE_INFINITY
  for (const element of ridge.values()) {
    from = Math.min(from, element)
    to = Math.max(to, element)
  }
  return { from, to }
}

/**
 * Whether a maximum is what is left of a place that was taken off with the notch's own answer: on its revolutions, under
 * its lobes whatever is there, beyond them as strong as the form of a crack may differ there from that of the notch.
 */
function isLeftOf(at: number, one: Taken, placing: Placing): boolean {
  const { perTurn, lobes, statistic, level, residue } = placing
  if (one.sign === (statistic[at]! < 0 ? -1 : 1) && isSame(at, one, placing)) return true
  const row = Math.round((at - one.at) / perTurn)
  if (!isWithin(at, row, one, placing)) return false
  const beside = at - one.at - row * perTurn
  if (Math.abs(beside) <= lobes) return true
  const { least, most } = predicted(beside, placing)
  return Math.abs(statistic[at]!) < level + residue * Math.max(-least, most) * one.statistic
}

/** Whether a revolution is one on which a place shows. */
function isWithin(at: number, row: number, { ridge, shown }: Taken, { beyond, perTurn }: Placing): boolean {
  if (at > shown.first - 1.5 * perTurn && at < shown.last + 1.5 * perTurn) return true
  for (const on of ridge.keys()) if (Math.abs(on - row) <= beyond) return true
  return false
}

interface Owner {
  readonly at: number
  readonly statistic: number
  readonly ridge: ReadonlyMap<number, number>
}

function isSame(at: number, one: Owner, placing: Placing): boolean {
  const { perTurn, wander, layerOf, twin } = placing
  if (layerOf(at) !== layerOf(one.at)) return false
  const row = Math.round((at - one.at) / perTurn)
  const on = one.ridge.get(row)
  if (on !== undefined && Math.abs(at - on) <= 2 * wander) return true
  if (twin === undefined) return false
  const besides = Math.abs(at - one.at - row * perTurn)
  const alike = 2 * Math.abs(placing.statistic[at]!) >= one.statistic
  return alike && besides <= wander && Math.abs(Math.abs(row) - twin) <= Math.max(1, TWIN_SHARE * twin)
}

/** Share by which the distance of two maxima of one short flaw may differ from that of the mid-bore notch. */
const TWIN_SHARE = 0.35

/** Where the flaw is on each revolution, by number from its peak, as long as its size along its own line stays at half its peak or more. */
function ridgeOf(at: number, line: Line, placing: Placing): Map<number, number> {
  const { x, y, perTurn, wander } = placing
  const half = 0.5 * along(line, { x: x[at]!, y: y[at]! })
  const ridge = new Map<number, number>([[0, at]])
  for (const sense of [1, -1] as const) {
    let here = at
    for (let row = sense; ; row += sense) {
      const next = strongest(here + sense * perTurn, wander, { x, y, line })
      if (next === undefined || next.size < half) break
      here = next.at
      ridge.set(row, here)
    }
  }
  return ridge
}

function strongest(
  middle: number,
  wander: number,
  { x, y, line }: { readonly x: Float64Array; readonly y: Float64Array; readonly line: Line }
): { readonly at: number; readonly size: number } | undefined {
  let best = -1
  let most = Number.NEGATIVE_INFINITY
  for (let i = Math.max(0, middle - wander); i <= Math.min(x.length - 1, middle + wander); i++) {
    const size = along(line, { x: x[i]!, y: y[i]! })
    if (size > most) {
      most = size
      best = i
    }
  }
  return best < 0 ? undefined : { at: best, size: most }
}

/**
 * Whether a maximum is what the matched output shows beside a stronger flaw on the same revolution: a real multiple of
 * that flaw's size, as large as its predicted side lobe there and up to `freedom` times as much (a crack's form is not the
 * notch's); what is left of it then does not stand out of the noise.
 */
function isSideLobe(at: number, one: Owner, placing: Placing): boolean {
  const { x, y, perTurn, wander, level } = placing
  const row = Math.round((at - one.at) / perTurn)
  const shift = at - one.at - row * perTurn
  if (Math.abs(shift) <= wander + placing.shift) return false // in the main lobe's own place
  const main = one.ridge.get(row) ?? strongestThere(one.at + row * perTurn, wander, placing)
  if (main === undefined) return false
  const size = { x: x[main]!, y: y[main]! }
  const square = size.x * size.x + size.y * size.y
  if (square === 0) return false
  const { least, most } = predicted(shift, placing)
  const share = Math.max(least, Math.min(most, (x[at]! * size.x + y[at]! * size.y) / square))
  const left = standing(placing.weighing, { x: x[at]! - share * size.x, y: y[at]! - share * size.y })
  const lobe = Math.max(-least, most)
  return left < level + placing.residue * lobe * standing(placing.weighing, size)
}

function strongestThere(middle: number, wander: number, { x, y }: Placing): number | undefined {
  let best: number | undefined
  let most = -1
  for (let i = Math.max(0, middle - wander); i <= Math.min(x.length - 1, middle + wander); i++) {
    const square = x[i]! * x[i]! + y[i]! * y[i]!
    if (square > most) {
      most = square
      best = i
    }
  }
  return best
}

function predicted(
  beside: number,
  { answer, freedom, shift, perTurn }: Placing
): { readonly least: number; readonly most: number } {
  let least = 0
  let most = 0
  for (let k = -shift; k <= shift; k++) {
    const value = answer[(((perTurn / 2 + beside + k) % perTurn) + perTurn) % perTurn]!
    least = Math.min(least, freedom * value)
    most = Math.max(most, freedom * value)
  }
  return { least, most }
}
