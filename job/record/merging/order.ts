import { momentOf } from '../../plan/index.ts'
import type { Entry, EntryOf } from '../kinds.ts'
import type { EntryRow } from '../row.ts'

/**
 * In which order the entries of a record were made. In one chain that is their own order. Where two devices worked apart
 * each chain has its own order, and nothing says which entry of one came before which of the other, unless a person has
 * stated that their clocks agreed. L. Lamport, Time, Clocks, and the Ordering of Events (1978): "happened before" is a
 * partial order.
 */
export interface Order {
  readonly isPlain: boolean
  /** places of the rows, each after all that came before it; of those nobody can order, the earlier time first */
  readonly sorted: readonly number[]
  /** whether the chains alone tell that the entry at `a` was made before the one at `b` */
  readonly inChain: (a: number, b: number) => boolean
  /** the same, also by clocks that a person has stated to agree */
  readonly isBefore: (a: number, b: number) => boolean
  /** the chain in which an entry was made */
  readonly laneOf: (at: number) => number
}

export function orderOf(rows: readonly EntryRow[]): Order {
  return rows.some(({ kind }) => kind === 'merged') ? mergedOrder(rows) : plainOrder(rows.length)
}

const isLower = (a: number, b: number): boolean => a < b
const onlyLane = (): number => 0

/** Of every plain record by the same functions: what follows from them is known to be the same. */
const plainOrder = (count: number): Order => ({
  ...{ isPlain: true, sorted: Array.from({ length: count }, (_, at) => at), laneOf: onlyLane },
  ...{ inChain: isLower, isBefore: isLower }
})

/** The rows that the record of the device had when it made the one at this place. */
export function pastOf(rows: readonly EntryRow[], at: number): readonly EntryRow[] {
  const { isPlain, inChain } = orderOf(rows)
  return isPlain ? rows.slice(0, at) : rows.filter((_, one) => inChain(one, at))
}

interface Lane {
  /** places of its entries, in the order of the chain */
  readonly own: readonly number[]
  /** by how much its clock can have differed from the others, s */
  readonly clocks_s?: number
}

function mergedOrder(rows: readonly EntryRow[]): Order {
  const entries = rows.map(({ body }) => JSON.parse(body) as Entry)
  const places = new Map(rows.map(({ id }, at) => [id, at]))
  const chains = chainsOf(entries, places)
  const lanes = lanesOf(chains, rows.length)
  const times = entries.map(({ at, id }) => ({ id, seconds: secondsOf(at) }))
  const sorted = sort(predecessors(chains, rows.length), times)
  const inChain = reach({ sorted, lanes, before: predecessors(chains, rows.length) })
  const byClock = clockOf(lanes, times)
  return {
    ...{ isPlain: false, sorted, inChain, laneOf: (at) => lanes.laneOf[at] as number },
    isBefore: (a, b) => inChain(a, b) || (!inChain(b, a) && byClock(a, b))
  }
}

/** Only the clock of a computer, with its offset from UTC, can be compared with that of another. */
const secondsOf = ({ time, known }: Entry['at']): number | undefined => {
  const moment = momentOf(time)
  return known === 'clock of this computer' && moment?.hasOffset === true ? moment.seconds : undefined
}

interface Chain extends Lane {
  /** the entry after which the first of them was made; none for our own */
  readonly after?: number
  /** the entry that brought it in */
  readonly until?: number
}

/** Our own chain first, then one for every merge, inner ones before those that brought them in. */
function chainsOf(entries: readonly Entry[], places: ReadonlyMap<string, number>): readonly Chain[] {
  const merges = entries.filter((entry): entry is EntryOf<'merged'> => entry.kind === 'merged')
  const inner = new Set(merges.flatMap(({ brings }) => brings))
  const outer = merges.filter(({ id }) => !inner.has(id))
  const foreign = new Set(outer.flatMap(({ brings }) => brings))
  const place = (id: string) => places.get(id) as number
  const own = entries.flatMap(({ id }, at) => (foreign.has(id) ? [] : [at]))
  const others = merges.map((merge): Chain => {
    const within = new Set(merges.filter(({ id }) => merge.brings.includes(id)).flatMap(({ brings }) => brings))
    const clocks = merge.clocks_agree_s === undefined ? {} : { clocks_s: merge.clocks_agree_s }
    const ids = merge.brings.filter((id) => !within.has(id))
    return { own: ids.map(place), after: place(merge.after), until: place(merge.id), ...clocks }
  })
  return [{ own, clocks_s: 0 }, ...others]
}

interface Lanes {
  readonly laneOf: readonly number[]
  readonly placeIn: readonly number[]
  readonly lanes: readonly Lane[]
}

/** An entry that several chains have belongs to the first of them. */
function lanesOf(chains: readonly Chain[], count: number): Lanes {
  const laneOf = new Array<number>(count).fill(0)
  const placeIn = new Array<number>(count).fill(0)
  const seen = new Set<number>()
  for (const [lane, { own }] of chains.entries()) {
    for (const [step, at] of own.entries()) {
      if (seen.has(at)) continue
      seen.add(at)
      laneOf[at] = lane
      placeIn[at] = step
    }
  }
  return { laneOf, placeIn, lanes: chains }
}

function predecessors(chains: readonly Chain[], count: number): readonly (readonly number[])[] {
  const before: number[][] = Array.from({ length: count }, () => [])
  for (const { own, after, until } of chains) {
    const line = [after, ...own, until].filter((at) => at !== undefined)
    for (const [step, at] of line.entries()) if (step > 0) before[at]?.push(line[step - 1] as number)
  }
  return before
}

interface Timed {
  readonly id: string
  readonly seconds: number | undefined
}

/** Topological, the earliest first among those that may come (A. B. Kahn, 1962); equal times by id, so that both devices sort alike. */
function sort(before: readonly (readonly number[])[], times: readonly Timed[]): readonly number[] {
  const waiting = new Set(before.keys())
  const missing = before.map((some) => new Set(some))
  const after: number[][] = before.map(() => [])
  for (const [at, some] of before.entries()) for (const one of some) after[one]?.push(at)
  const ready = [...waiting].filter((at) => missing[at]?.size === 0)
  const sorted: number[] = []
  while (ready.length > 0) {
    const next = ready.reduce((a, b) => (isEarlier(times[b] as Timed, times[a] as Timed) ? b : a))
    ready.splice(ready.indexOf(next), 1)
    waiting.delete(next)
    sorted.push(next)
    for (const at of new Set(after[next])) {
      missing[at]?.delete(next)
      if (missing[at]?.size === 0) ready.push(at)
    }
  }
  return [...sorted, ...waiting]
}

const isEarlier = (a: Timed, b: Timed): boolean => {
  const [at, bt] = [a.seconds ?? 0, b.seconds ?? 0]
  return at < bt || (at === bt && a.id < b.id)
}

interface Reaching {
  readonly sorted: readonly number[]
  readonly lanes: Lanes
  readonly before: readonly (readonly number[])[]
}

/** Of every chain, how far it had come when an entry was made: C. J. Fidge and F. Mattern's vector clocks (1988). */
function reach({ sorted, lanes: { laneOf, placeIn, lanes }, before }: Reaching): Order['inChain'] {
  const clocks: Int32Array[] = before.map(() => new Int32Array(lanes.length).fill(-1))
  for (const at of sorted) {
    const own = clocks[at] as Int32Array
    for (const one of before[at] as readonly number[]) {
      for (const [lane, far] of (clocks[one] as Int32Array).entries()) own[lane] = Math.max(own[lane] as number, far)
    }
    own[laneOf[at] as number] = placeIn[at] as number
  }
  return (a, b) => a !== b && (clocks[b]?.[laneOf[a] as number] ?? -1) >= (placeIn[a] as number)
}

/** Two clocks were compared with ours each: their differences add up. */
const clockOf =
  ({ laneOf, lanes }: Lanes, times: readonly Timed[]): Order['isBefore'] =>
  (a, b) => {
    const [one, other] = [lanes[laneOf[a] as number]?.clocks_s, lanes[laneOf[b] as number]?.clocks_s]
    const [from, to] = [times[a]?.seconds, times[b]?.seconds]
    if (one === undefined || other === undefined || from === undefined || to === undefined) return false
    return to - from > one + other
  }
