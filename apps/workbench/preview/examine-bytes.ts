import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import { type Examination, openRun, type Recipe, type Run, type Wall } from '@trueloop/job/examine'
import { type Mapping, openScan, type Segment } from '@trueloop/job/scan'
import { fromHead } from './from-head.ts'

/** What an examination is made from, but for the bytes: as the service gives it. */
export interface Making {
  readonly name: string
  readonly bytes: number
  readonly mapping: Mapping
  readonly recipe: Recipe
}

/** What this page finds by itself. It enters no record. */
export interface Made {
  readonly examination: Examination
  /** as judged */
  readonly wall?: Wall
  /** as recorded, placed by angle: a row a revolution, recorded units */
  readonly placed?: Wall
}

/** Examines a recording in this thread, with the program that the service examines with. */
export async function examineBytes(making: Making, pieces: AsyncIterable<Uint8Array>): Promise<Result<Made>> {
  const placed = new PlacedRows()
  const run = openRun(making.recipe, { placed: (number, x, y) => placed.add(number, x, y) })
  if (isRefusal(run)) return run
  const warnings = await lead(making, pieces, run)
  if (isRefusal(warnings)) return warnings
  const closed = run.close({ wall: true })
  if (isRefusal(closed)) return closed
  const { examination, wall } = closed
  return {
    examination: { ...examination, notes: [...examination.notes, ...(warnings as readonly string[])] },
    ...(wall === undefined ? {} : { wall }),
    ...(placed.isEmpty ? {} : { placed: placed.wall() })
  }
}

async function lead(making: Making, pieces: AsyncIterable<Uint8Array>, run: Run): Promise<Result<readonly string[]>> {
  const all = fromHead(pieces)
  const head = await all.head
  const reader = openScan(head, making.name, making.mapping, making.bytes)
  if (isRefusal(reader)) return reader
  for await (const piece of all.pieces()) {
    const segments = reader.push(piece)
    const no = isRefusal(segments) ? segments : takeAll(segments, run)
    if (no !== undefined) return no
  }
  const end = reader.end()
  if (isRefusal(end)) return end
  return takeAll(end.segments, run) ?? end.scan.warnings
}

function takeAll(segments: readonly Segment[], run: Run): Refusal | undefined {
  for (const segment of segments) {
    const answer = run.take(segment)
    if (isRefusal(answer)) return answer
  }
  return undefined
}

/** Revolutions as they come, kept as a wall. */
class PlacedRows {
  readonly #rows: { readonly number: number; readonly x: Float32Array; readonly y: Float32Array }[] = []

  get isEmpty(): boolean {
    return this.#rows.length === 0
  }

  add(number: number, x: Float64Array, y: Float64Array): void {
    this.#rows.push({ number, x: Float32Array.from(x), y: Float32Array.from(y) })
  }

  wall(): Wall {
    const first = this.#rows[0]!
    const columns = first.x.length
    const rowFrom = first.number
    const rows = this.#rows.at(-1)!.number - rowFrom + 1
    const x = new Float32Array(rows * columns).fill(Number.NaN)
    const y = new Float32Array(rows * columns).fill(Number.NaN)
    for (const row of this.#rows) {
      x.set(row.x, (row.number - rowFrom) * columns)
      y.set(row.y, (row.number - rowFrom) * columns)
    }
    return { rows, columns, rowFrom, x, y }
  }
}
