/** WAV recordings: RIFF, RIFX, RF64, BW64 with PCM or floating-point samples; a channel a column. */
import { isRefusal, located, type Refusal, type Result } from '@trueloop/ground/refusal'
import { refuse } from '../codes.ts'
import {
  type Format,
  HEAD_LIMIT,
  type Head,
  type Layout,
  type RawColumn,
  type Table,
  type TableReader
} from '../format.ts'
import { joined } from './joined.ts'
import type { WaveFormat } from './wave/fmt.ts'
import { FrameReader, headFormat, headFrames } from './wave/reader.ts'

const FAMILY = ['RIFF', 'RIFX', 'RF64', 'BW64']

const recognise = (head: Head): boolean => FAMILY.includes(String.fromCharCode(...head.bytes.subarray(0, 4)))

const isWhole = (head: Head): boolean => (head.size ?? HEAD_LIMIT) <= head.bytes.length

function survey(head: Head): Result<Layout> {
  const seen = headFrames(head.bytes, isWhole(head))
  if (isRefusal(seen)) return located(seen, { file: head.name })
  return seen === undefined ? noFormat(head) : layoutOf(seen.format, seen.tables)
}

function layoutOf(format: WaveFormat, tables: () => readonly Table[]): Layout {
  return {
    columns: Array.from({ length: format.channels }, (_, channel) => rawColumn(tables, channel)),
    headerRows: 0,
    rate: { value: format.rate_Hz, reason: 'stated in the header', certainty: 1 },
    notes: [format.float ? 'samples as recorded' : 'samples divided by full scale, so that they lie within −1 and 1'],
    doubts: [],
    details: {
      samples: `${format.bits}-bit ${format.float ? 'floating point' : 'PCM'}`,
      'byte order': format.little ? 'little-endian' : 'big-endian'
    },
    ...(format.float ? {} : { unit: 'full scale' })
  }
}

/** Its values are decoded when they are asked for: whoever knows the columns already never looks at them. */
function rawColumn(tables: () => readonly Table[], channel: number): RawColumn {
  let known: Float64Array | undefined
  const values = (): Float64Array => {
    known ??= joined(tables().map((table) => table.columns[channel] as Float64Array))
    return known
  }
  return {
    names: [],
    kind: 'number',
    get values() {
      return values()
    },
    get sample() {
      return Array.from(values().subarray(0, 3), String)
    }
  }
}

function open(head: Head, columns: readonly number[]): Result<TableReader> {
  const format = headFormat(head.bytes, isWhole(head))
  if (isRefusal(format)) return located(format, { file: head.name })
  if (format === undefined) return noFormat(head)
  const size = format.channels * format.container
  return new FrameReader(columns, head.size === undefined ? undefined : Math.floor(head.size / size) + 1)
}

const noFormat = (head: Head): Refusal =>
  refuse('scan/truncated-header', {
    found: `no whole format chunk within the first ${head.bytes.length} bytes`,
    needed: 'a format chunk and a data chunk',
    remedy: 'check that the recording was copied whole',
    where: { file: head.name }
  })

export const wave: Format = { name: 'wave', recognise, survey, open }
