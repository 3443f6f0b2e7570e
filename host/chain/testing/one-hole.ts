import { join } from 'node:path'
import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import { demoSheet } from '@trueloop/job/rehearse'
import { type Archive, openArchive } from '../../archive/index.ts'
import type { Stepping } from '../../archive/testing/stepping.ts'
import { runChain } from '../run.ts'

/** One hole of the demonstration, with the reference scan before it: all that the archive does for one examination. */
export const oneHole = ['reference-start.wav', 'hole-P02.wav'] as const

export const oneHoleSheet = () => {
  const sheet = demoSheet()
  return { ...sheet, recordings: sheet.recordings.filter(({ file }) => oneHole.some((one) => one === file)) }
}

/** Always the same moment: two records of it are equal to the bit, or are not the same. */
const clock = () => ({ time: '2026-03-14T09:00:00.000Z', known: 'clock of this computer' }) as const

export interface Run {
  /** the recordings of the hole lie there */
  readonly recordings: string
  readonly archive: Archive
  readonly tell?: (acknowledged: string) => void
}

/** Leads the hole through the chain; whatever the archive has said is safe is told at once. */
export async function examineOneHole({ recordings, archive, tell }: Run): Promise<readonly Refusal[]> {
  const watched = tell === undefined ? archive : telling(archive, tell)
  const { refusals } = await runChain({ sheet: oneHoleSheet(), folder: recordings, archive: watched, clock })
  return refusals
}

function telling(archive: Archive, tell: (acknowledged: string) => void): Archive {
  const told = async <T>(work: Promise<Result<T>>, say: (done: T) => string): Promise<Result<T>> => {
    const done = await work
    if (!isRefusal(done)) tell(say(done as T))
    return done
  }
  return {
    ...archive,
    append: ((...given) =>
      told(
        archive.append(...given),
        (rows) => `entries ${rows.map(({ hash }) => hash).join(' ')}`
      )) as Archive['append'],
    storeDocument: ((...given) =>
      told(archive.storeDocument(...given), (hash) => `document ${hash}`)) as Archive['storeDocument'],
    keepOriginal: ((source) =>
      told(archive.keepOriginal(source), ({ sha256 }) => `original ${sha256}`)) as Archive['keepOriginal']
  }
}

/** From opening the archive to closing it. */
export async function wholeRun(
  folder: string,
  recordings: string,
  { steps, tell }: { readonly steps: Stepping; readonly tell?: (acknowledged: string) => void }
): Promise<readonly Refusal[]> {
  const archive = await openArchive(join(folder, 'archive'), steps)
  if (isRefusal(archive)) return [archive]
  try {
    return await examineOneHole({ recordings, archive, ...(tell === undefined ? {} : { tell }) })
  } finally {
    await archive.close()
  }
}
