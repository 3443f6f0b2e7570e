/** Test help: a whole recording read through the room's public door, cut as asked. */
import { isRefusal, type Result } from '@trueloop/ground/refusal'
import { mappingOf, type Overrides, openScan, type Scan, type ScanReader, type Segment, survey } from '../index.ts'

export interface Whole {
  readonly scan: Scan
  readonly rate_Hz: number
  /** sample number of each row */
  readonly numbers: readonly number[]
  readonly x: Float64Array
  readonly y: Float64Array
  readonly aux: Readonly<Record<string, Float64Array>>
  readonly segments: number
  readonly longest: number
}

export type Open = () => Result<ScanReader>

/** Opens a recording by the usual way: survey, mapping, reader. */
export function opened(bytes: Uint8Array, name: string, overrides: Overrides = {}): Result<ScanReader> {
  const seen = survey(bytes, name, bytes.length)
  if (isRefusal(seen)) return seen
  const mapping = mappingOf(seen, overrides)
  return isRefusal(mapping) ? mapping : openScan(bytes, name, mapping, bytes.length)
}

/** Pushes the bytes in pieces of these lengths (over and over), each in a buffer that is spoiled afterwards. */
export function readIn(open: Open, bytes: Uint8Array, lengths: readonly number[]): Result<Whole> {
  const reader = open()
  if (isRefusal(reader)) return reader
  const segments: Segment[] = []
  for (let at = 0, turn = 0; at < bytes.length; turn++) {
    const piece = bytes.slice(at, at + (lengths[turn % lengths.length] ?? bytes.length))
    at += piece.length
    const got = reader.push(piece)
    if (isRefusal(got)) return got
    segments.push(...got)
    piece.fill(0x37)
  }
  const end = reader.end()
  if (isRefusal(end)) return end
  return wholeOf([...segments, ...end.segments], end.scan, reader.rate_Hz)
}

function wholeOf(segments: readonly Segment[], scan: Scan, rate_Hz: number): Whole {
  const names = Object.keys(segments[0]?.aux ?? {})
  const pick = (of: (segment: Segment) => Float64Array | undefined): Float64Array =>
    Float64Array.from(segments.flatMap((segment) => Array.from(of(segment) ?? [])))
  const aux = names.map((name) => [name, pick((segment) => segment.aux[name as keyof Segment['aux']])])
  return {
    scan,
    rate_Hz,
    numbers: segments.flatMap(({ first, channels }) => Array.from(channels[0]!.x, (_, row) => first + row)),
    x: pick((segment) => segment.channels[0]?.x),
    y: pick((segment) => segment.channels[0]?.y),
    aux: Object.fromEntries(aux),
    segments: segments.length,
    longest: Math.max(...segments.map((segment) => segment.channels[0]!.x.length))
  }
}

/** Reads in one piece; a refusal is a failure of the test. */
export function readWhole(bytes: Uint8Array, name: string, overrides: Overrides = {}): Whole {
  const whole = readIn(() => opened(bytes, name, overrides), bytes, [bytes.length])
  if (isRefusal(whole)) throw new Error(`${whole.code}: ${whole.found}`)
  return whole
}

/** Reads in one piece and gives the code of the refusal, or "read". */
export function codeOf(bytes: Uint8Array, name: string, overrides: Overrides = {}): string {
  const whole = readIn(() => opened(bytes, name, overrides), bytes, [bytes.length])
  return isRefusal(whole) ? whole.code : 'read'
}

export const utf8 = (text: string): Uint8Array => new TextEncoder().encode(text)

/** The first thing that differs, to the bit, when the same bytes come in pieces; undefined where nothing does. */
export function cuttingFault(open: Open, bytes: Uint8Array, lengths: readonly number[]): string | undefined {
  const whole = readIn(open, bytes, [bytes.length])
  const cut = readIn(open, bytes, lengths)
  if (isRefusal(whole) || isRefusal(cut)) return JSON.stringify(whole) === JSON.stringify(cut) ? undefined : 'refusal'
  if (JSON.stringify(whole.scan) !== JSON.stringify(cut.scan)) return `scan: ${JSON.stringify(cut.scan)}`
  if (whole.numbers.join() !== cut.numbers.join()) return 'sample numbers'
  const columns: [string, Float64Array, Float64Array | undefined][] = [
    ['x', whole.x, cut.x],
    ['y', whole.y, cut.y],
    ...Object.entries(whole.aux).map(([name, values]): (typeof columns)[number] => [name, values, cut.aux[name]])
  ]
  return columns.find(([, a, b]) => b === undefined || !sameBits(a, b))?.[0]
}

function sameBits(a: Float64Array, b: Float64Array): boolean {
  return a.length === b.length && a.every((value, row) => Object.is(value, b[row]))
}
