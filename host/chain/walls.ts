import { mkdir, readFile, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { isRefusal, type Result } from '@trueloop/ground/refusal'
import type { Asked, Wall } from '@trueloop/job/examine'
import type { EntryOf, EntryRow } from '@trueloop/job/record'
import type { Archive } from '../archive/index.ts'
import { workOf } from './again.ts'
import { leadOne } from './examine.ts'

/**
 * Signals of unrolled bores: derived caches beside the record, which may be deleted. One file each: a head of 256 bytes
 * (JSON, filled up with blanks), then x of all elements and y of all elements as 32-bit floats; little-endian. Made with
 * the examination that is recorded, so that nobody who looks at it waits for a second run of the chain.
 */

/** What is asked for with every examination that is recorded. */
export const withWall: Asked = { wall: true }

const folderIn = ({ folder }: Archive): string => join(folder, 'walls')
const fileIn = (archive: Archive, examination: string): string => join(folderIn(archive), `${examination}.wall`)

/** Where in the file the figures begin: a multiple of four, so that they can be looked at in place. */
const headLength = 256

/** The bytes of a wall, as they are kept and sent. */
export function wallBytes({ rows, columns, rowFrom, x, y }: Wall): Uint8Array {
  const bytes = new Uint8Array(headLength + 4 * (x.length + y.length))
  const head = new TextEncoder().encode(JSON.stringify({ form: 'wall/1', rows, columns, rowFrom }))
  bytes.fill(0x20, 0, headLength).set(head)
  const view = new DataView(bytes.buffer)
  let at = headLength
  for (const column of [x, y]) {
    for (let i = 0; i < column.length; i++, at += 4) view.setFloat32(at, column[i] as number, true)
  }
  return bytes
}

/**
 * The signal of an examination of a hole, as kept; made again from the recording where it is not kept any more. undefined
 * where the job's record names no such examination, or one of something else. Refuses what examining again refuses.
 */
export async function wallIn(archive: Archive, job: string, hash: string): Promise<Result<Uint8Array | undefined>> {
  const rows = await archive.entries(job)
  if (isRefusal(rows)) return rows
  const examined = examinedIn(rows, hash)
  if (examined === undefined || examined.subject.of !== 'hole') return undefined
  const kept = await readFile(fileIn(archive, hash)).catch(() => undefined)
  return kept !== undefined && isWall(kept) ? kept : makeWall(archive, rows, examined)
}

export const examinedIn = (rows: readonly EntryRow[], hash: string): EntryOf<'examined'> | undefined =>
  rows
    .filter(({ kind, body }) => kind === 'examined' && body.includes(hash))
    .map(({ body }) => JSON.parse(body) as EntryOf<'examined'>)
    .find(({ examination }) => examination === hash)

/** A power cut may leave half of a file: what is no wall is none. */
function isWall(bytes: Uint8Array): boolean {
  try {
    const head = JSON.parse(new TextDecoder().decode(bytes.subarray(0, headLength))) as Partial<Wall>
    return bytes.length === headLength + 8 * Number(head.rows) * Number(head.columns)
  } catch {
    return false
  }
}

async function makeWall(
  archive: Archive,
  rows: readonly EntryRow[],
  examined: EntryOf<'examined'>
): Promise<Result<Uint8Array | undefined>> {
  const work = await workOf(archive, rows, examined)
  if (isRefusal(work)) return work
  const closed = await leadOne(work, {}, withWall)
  if (isRefusal(closed)) return closed
  if (closed.wall === undefined) return undefined
  const bytes = wallBytes(closed.wall)
  await keepBytes(archive, examined.examination, bytes)
  return bytes
}

/** Keeps the wall of an examination, where it has one. */
export const keepWall = (archive: Archive, examination: string, wall: Wall | undefined): Promise<void> =>
  wall === undefined ? Promise.resolve() : keepBytes(archive, examination, wallBytes(wall))

/** A wall that can't be kept is no reason to stop: it is made again. Half of one is found by its length. */
async function keepBytes(archive: Archive, examination: string, bytes: Uint8Array): Promise<void> {
  const write = () => writeFile(fileIn(archive, examination), bytes)
  const withFolder = async () => {
    await mkdir(folderIn(archive), { recursive: true })
    await write()
  }
  await write()
    .catch(withFolder)
    .catch(() => undefined)
}
