import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import { type Asked, type Closed, openRun, type Recipe, type Run } from '@trueloop/job/examine'
import {
  HEAD_LIMIT,
  type Mapping,
  openScan,
  release,
  type Scan,
  type ScanReader,
  type Segment
} from '@trueloop/job/scan'
import { type ByteSource, openSource, type Source } from './bytes.ts'

/** One recording to examine, with all that its examination depends on: plain data, so that a worker can be given it. */
export interface Task {
  /** how messages name it */
  readonly name: string
  readonly source: Source
  /** columns, settled before */
  readonly mapping: Mapping
  readonly recipe: Recipe
  /** what is wanted beside the findings */
  readonly asked?: Asked
}

/** What became of a task: findings, and what was asked for beside them. */
export type Examined = Omit<Closed, 'events'>

/** Told how many bytes were read, piece after piece. */
export type Tell = (bytes: number) => void

/**
 * Examines one recording in this thread, from its bytes to what was found; what the recording lost counts in the notes.
 * Refuses `crew/unreadable-recording`, and what opening, reading and examining refuse.
 */
export function examineTask(task: Task, tell?: Tell): Result<Examined> {
  const run = openRun(task.recipe)
  if (isRefusal(run)) return run
  const source = openSource(task.source)
  if (isRefusal(source)) return source
  try {
    return examineFrom(source, task, { run, tell })
  } finally {
    source.close()
  }
}

interface Running {
  readonly run: Run
  readonly tell: Tell | undefined
}

function examineFrom(source: ByteSource, { name, mapping, asked }: Task, running: Running): Result<Examined> {
  const head = source.read(HEAD_LIMIT)
  if (isRefusal(head)) return head
  const reader = openScan(head, name, mapping, source.bytes)
  if (isRefusal(reader)) return reader
  const scan = feed({ head, source, reader }, running)
  if (isRefusal(scan)) return scan
  const closed = running.run.close(asked)
  if (isRefusal(closed)) return closed
  const { events: _, examination, ...beside } = closed
  return { examination: { ...examination, notes: [...examination.notes, ...scan.warnings] }, ...beside }
}

/** Bytes handed to the reader at a time: their segments stay in the cache of the processor. */
const PIECE = 1 << 16

interface Feeding {
  readonly head: Uint8Array
  readonly source: ByteSource
  readonly reader: ScanReader
}

function feed({ head, source, reader }: Feeding, { run, tell }: Running): Result<Scan> {
  let bytes = 0
  const push = (piece: Uint8Array): Refusal | undefined => {
    const segments = reader.push(piece)
    bytes += piece.length
    tell?.(bytes)
    return isRefusal(segments) ? segments : takeAll(segments, run)
  }
  for (let at = 0; at < head.length; at += PIECE) {
    const no = push(head.subarray(at, at + PIECE))
    if (no !== undefined) return no
  }
  for (;;) {
    const piece = source.read(PIECE)
    const no = isRefusal(piece) ? piece : push(piece)
    if (no !== undefined || isRefusal(piece)) return no as Refusal
    if (piece.length === 0) break
  }
  const end = reader.end()
  return isRefusal(end) ? end : (takeAll(end.segments, run) ?? end.scan)
}

function takeAll(segments: readonly Segment[], run: Run): Refusal | undefined {
  for (const segment of segments) {
    const answer = run.take(segment)
    if (isRefusal(answer)) return answer
    release(segment)
  }
  return undefined
}
