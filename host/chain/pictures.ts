import { mkdir, readFile, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import type { Picture } from '@trueloop/job/examine'
import type { Archive } from '../archive/index.ts'

/** Pictures of unrolled bores: derived caches beside the record, which may be deleted. */

const folderIn = ({ folder }: Archive): string => join(folder, 'pictures')

/** A picture that can't be kept is no reason to stop: the record does not need it. */
export async function keepPicture(archive: Archive, examination: string, picture: Picture): Promise<void> {
  try {
    await mkdir(folderIn(archive), { recursive: true })
    await writeFile(join(folderIn(archive), `${examination}.json`), JSON.stringify(picture))
  } catch {
    // the report says that there is no picture
  }
}

export async function pictureOf(archive: Archive, examination: string): Promise<Picture | undefined> {
  try {
    const kept: unknown = JSON.parse(await readFile(join(folderIn(archive), `${examination}.json`), 'utf8'))
    return isPicture(kept) ? kept : undefined
  } catch {
    return undefined
  }
}

/** The files lie open, and a power cut may leave half of one: what is no picture is none. */
function isPicture(kept: unknown): kept is Picture {
  const { rows, columns, rowFrom, rowStep, values } = kept as Partial<Picture>
  const cells = Array.isArray(values) ? values : []
  const isWhole = [rows, columns].every((one) => Number.isInteger(one) && Number(one) >= 0)
  return isWhole && cells.length === rows! * columns! && [rowFrom, rowStep, ...cells].every(Number.isFinite)
}
