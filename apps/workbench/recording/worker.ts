/// <reference lib="webworker" />
import { isRefusal, type Refusal } from '@trueloop/ground/refusal'
import { type Mapping, openScan, type Segment } from '@trueloop/job/scan'
import { fromHead } from '../preview/from-head.ts'
import { type Level, PyramidBuilder } from './pyramid.ts'

/** Reads a recording once and answers what of it is to be drawn. */
export type Asking =
  | {
      readonly open: {
        readonly name: string
        readonly bytes: number
        readonly mapping: Mapping
        readonly address: string
      }
    }
  | { readonly window: { readonly from: number; readonly to: number } }

export type Answer =
  | { readonly reading: { readonly bytes: number } }
  | { readonly ready: { readonly samples: number; readonly rate_Hz: number; readonly levels: readonly Level[] } }
  | { readonly window: Samples }
  | { readonly refusal: Refusal }
  | { readonly trouble: string }

/** Samples from number `from` on, as recorded. */
export interface Samples {
  readonly from: number
  readonly x: Float32Array
  readonly y: Float32Array
}

declare const self: DedicatedWorkerGlobalScope

/** All samples in pieces of one length: room is taken piece by piece, and nothing is copied to grow. */
const piece = 1 << 20
const kept: { readonly x: Float32Array; readonly y: Float32Array }[] = []

self.onmessage = ({ data }: MessageEvent<Asking>) => {
  if ('open' in data) void open(data.open).catch((error: unknown) => tell({ trouble: String(error) }))
  else {
    const window = samplesIn(data.window.from, data.window.to)
    tell({ window }, [window.x.buffer as ArrayBuffer, window.y.buffer as ArrayBuffer])
  }
}

const tell = (answer: Answer, moved: ArrayBuffer[] = []): void => self.postMessage(answer, moved)

async function open({ name, bytes, mapping, address }: Extract<Asking, { open: unknown }>['open']): Promise<void> {
  const response = await fetch(address)
  if (!response.ok || response.body === null)
    return tell({ trouble: `the recording was not given (${response.status})` })
  const all = fromHead(response.body as unknown as AsyncIterable<Uint8Array>)
  const reader = openScan(await all.head, name, mapping, bytes)
  if (isRefusal(reader)) return tell({ refusal: reader })
  const builder = new PyramidBuilder()
  const take = (segments: readonly Segment[]) => {
    for (const segment of segments) keep(builder, segment)
  }
  let read = 0
  let told = 0
  for await (const one of all.pieces()) {
    const segments = reader.push(one)
    if (isRefusal(segments)) return tell({ refusal: segments })
    take(segments)
    read += one.length
    if (read - told > bytes / 50) {
      told = read
      tell({ reading: { bytes: read } })
    }
  }
  const end = reader.end()
  if (isRefusal(end)) return tell({ refusal: end })
  take(end.segments)
  tell({ ready: { samples: builder.samples, rate_Hz: reader.rate_Hz, levels: builder.levels() } })
}

function keep(builder: PyramidBuilder, { first, channels: [channel] }: Segment): void {
  if (channel === undefined) return
  builder.add(first, channel.x, channel.y)
  for (let i = 0; i < channel.x.length; ) {
    const at = first + i
    while (kept.length * piece <= at)
      kept.push({ x: new Float32Array(piece).fill(Number.NaN), y: new Float32Array(piece).fill(Number.NaN) })
    const offset = at % piece
    const count = Math.min(piece - offset, channel.x.length - i)
    const into = kept[Math.floor(at / piece)]!
    into.x.set(channel.x.subarray(i, i + count), offset)
    into.y.set(channel.y.subarray(i, i + count), offset)
    i += count
  }
}

function samplesIn(from: number, to: number): Samples {
  const start = Math.max(0, Math.floor(from))
  const length = Math.max(0, Math.min(kept.length * piece, Math.ceil(to)) - start)
  const cut = (column: 'x' | 'y') =>
    Float32Array.from({ length }, (_, i) => kept[Math.floor((start + i) / piece)]![column][(start + i) % piece]!)
  return { from: start, x: cut('x'), y: cut('y') }
}
