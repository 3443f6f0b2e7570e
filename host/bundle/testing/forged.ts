import { type EntryRow, replay } from '@trueloop/job/record'
import { measureBytes } from '../measure.ts'
import { inOrder, names } from '../names.ts'
import { rowsFrom } from '../record.ts'
import { jobJson, type ProgramName, sumsText } from '../text/job-json.ts'
import { layoutOf } from '../zip/layout.ts'
import { got } from './small-job.ts'

/** Bundles that somebody made with care: every sum right, something else wrong. */

export interface Packed {
  readonly name: string
  readonly bytes: Uint8Array
}

/** The files of a ZIP as the bundle's form writes it, without any check. */
export function unpack(zip: Buffer): readonly Packed[] {
  const files: Packed[] = []
  for (let at = 0; zip.readUInt32LE(at) === 0x04034b50; ) {
    const [bytes, length] = [zip.readUInt32LE(at + 22), zip.readUInt16LE(at + 26)]
    const from = at + 30 + length
    files.push({ name: zip.toString('latin1', at + 30, from), bytes: zip.subarray(from, from + bytes) })
    at = from + bytes
  }
  return files
}

export function pack(files: readonly Packed[]): Buffer {
  const { headers, directory } = layoutOf(files.map(({ name, bytes }) => ({ name, ...measureBytes(bytes) })))
  const parts = files.flatMap(({ bytes }, at) => [headers[at]?.bytes ?? Buffer.alloc(0), bytes])
  return Buffer.concat([...parts, directory.bytes])
}

/** Puts the list and the sums right again, as far as the record can be read. */
export function listed(files: readonly Packed[], rows?: readonly EntryRow[]): readonly Packed[] {
  const plain = inOrder(files.filter(({ name }) => name !== names.job && name !== names.sums))
  const was = JSON.parse(textOf(files, names.job)) as { program: ProgramName }
  const state = replay(rows ?? got(rowsFrom(textOf(files, names.entries))))
  const lines = plain.map(({ name, bytes }) => ({ name, ...measureBytes(bytes) }))
  const job = fileOf(names.job, jobJson(state, was.program, lines))
  const all = inOrder([...lines, { name: names.job, ...measureBytes(job.bytes) }])
  return inOrder([...plain, job, fileOf(names.sums, sumsText(all))])
}

export const fileOf = (name: string, text: string): Packed => ({ name, bytes: Buffer.from(text, 'utf8') })

export const textOf = (files: readonly Packed[], name: string): string =>
  Buffer.from(files.find((one) => one.name === name)?.bytes ?? []).toString('utf8')

export const without = (files: readonly Packed[], name: string): readonly Packed[] =>
  files.filter((one) => one.name !== name)

export const replaced = (files: readonly Packed[], name: string, text: string): readonly Packed[] =>
  files.map((one) => (one.name === name ? fileOf(name, text) : one))
