/** Test help: recordings of a turning probe whose every value is known, cut into segments as asked. */
import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import type { Segment } from '../../scan/index.ts'
import { AngleRuler, type AngleSource, type Revolution, type Turning } from '../angle-ruler.ts'
import { type ConditionedRevolution, Conditioning } from '../conditioned.ts'
import { DropLog, type Dropped } from '../drops.ts'

export interface Columns {
  readonly x: Float64Array
  readonly y: Float64Array
  readonly index?: Float64Array
  readonly position?: Float64Array
  readonly absolute?: Float64Array
}

export interface Turns {
  readonly samples: number
  /** turns of the probe at sample number i */
  readonly turn: (i: number) => number
  readonly x: (turn: number) => number
  readonly y: (turn: number) => number
}

/** Flanks of a pulse are 2 % of a turn long, its top 3 %: half height is crossed upward at each whole turn. */
export function pulseAt(turn: number): number {
  const part = turn - Math.floor(turn + 0.5)
  const rise = Math.min(1, Math.max(0, 0.5 + part / 0.02))
  const fall = Math.min(1, Math.max(0, 0.5 + (0.05 - part) / 0.02))
  return 5 * Math.min(rise, fall)
}

export function columnsOf({ samples, turn, x, y }: Turns): Required<Pick<Columns, 'x' | 'y' | 'index'>> {
  const of = (value: (turn: number) => number) => Float64Array.from({ length: samples }, (_, i) => value(turn(i)))
  return { x: of(x), y: of(y), index: of(pulseAt) }
}

/** Segments of these lengths, over and over; the last one is what is left. */
export function* segmentsOf(
  { x, y, index, position, absolute }: Columns,
  lengths: readonly number[]
): Generator<Segment> {
  for (let first = 0, k = 0; first < x.length; k++) {
    const to = Math.min(x.length, first + lengths[k % lengths.length]!)
    const aux = {
      ...(index === undefined ? {} : { index: index.slice(first, to) }),
      ...(position === undefined ? {} : { position: position.slice(first, to) }),
      ...(absolute === undefined ? {} : { absolute: absolute.slice(first, to) })
    }
    yield { first, channels: [{ x: x.slice(first, to), y: y.slice(first, to) }], aux }
    first = to
  }
}

export interface Ruled {
  readonly turning: Turning
  readonly revolutions: readonly Revolution[]
  readonly conditioned: readonly ConditionedRevolution[]
  readonly dropped: readonly Dropped[]
}

/** Rules a recording to its end; the segments' arrays are spoiled after each `take`, which has to copy. */
export function ruled(source: AngleSource, segments: Iterable<Segment>): Result<Ruled> {
  const drops = new DropLog()
  const revolutions: Revolution[] = []
  const conditioned: ConditionedRevolution[] = []
  const conditioning = new Conditioning<'angle', Revolution>(source.band, (unit) => void conditioned.push(unit))
  const ruler = new AngleRuler(source, drops, (revolution) => {
    const { signal } = revolution
    revolutions.push({ ...revolution, signal: { ...signal, x: signal.x.slice(), y: signal.y.slice() } })
    return conditioning.take(revolution)
  })
  for (const segment of segments) {
    const taken = ruler.take(segment)
    if (isRefusal(taken)) return taken
    spoil(segment)
  }
  const turning = ruler.end()
  return isRefusal(turning) ? turning : { turning, revolutions, conditioned, dropped: drops.entries() }
}

function spoil({ channels, aux }: Segment): void {
  for (const column of [...channels.flatMap(({ x, y }) => [x, y]), ...Object.values(aux)]) column.fill(1e30)
}

/** The same, where a refusal is a failure of the test. */
export function sound(source: AngleSource, segments: Iterable<Segment>): Ruled {
  const out = ruled(source, segments)
  if (isRefusal(out)) throw new Error(`${out.code}: ${out.found}`)
  return out
}

export function refusalOf(source: AngleSource, segments: Iterable<Segment>): Refusal {
  const out = ruled(source, segments)
  if (!isRefusal(out)) throw new Error('not refused')
  return out
}
