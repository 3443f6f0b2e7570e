import { isRefusal, type Result } from '@trueloop/ground/refusal'
import { canonical, type Entry } from '@trueloop/job/record'
import { head, kept, opened, sha256 } from '@trueloop/job/record/testing'
import type { Archive } from '../../archive/index.ts'

/** Invented jobs for tests: nothing in them was ever examined. */

export const got = <T>(result: Result<T>): T => {
  if (isRefusal(result)) throw new Error(`${result.code}: ${result.found}`)
  return result as T
}

export const codeOf = (value: unknown): string => (isRefusal(value) ? value.code : 'no refusal')

export interface SmallRecording {
  readonly file: string
  readonly bytes: Uint8Array
}

export interface SmallJob {
  readonly job: string
  readonly component: string
  readonly recordings: readonly SmallRecording[]
  readonly documents: readonly unknown[]
  /** the component as corrected afterwards */
  readonly corrected?: string
}

export const plainJob: SmallJob = {
  job: 'S-1',
  component: 'Invented panel 1',
  recordings: [
    { file: 'reference.csv', bytes: Buffer.from('x,y\n0,1\n2,3\n') },
    { file: 'empty.csv', bytes: new Uint8Array(0) }
  ],
  documents: [{ any: 'thing', number: 0.1 }]
}

/** The entries of an invented job; originals and documents stored on the way. */
export async function entriesOf(archive: Archive, small: SmallJob): Promise<readonly Entry[]> {
  const first = opened(small.job, ['1'])
  const opening = { ...first, job: { ...first.job, component: small.component } }
  const entries: Entry[] = [opening]
  for (const document of small.documents) entries.push(await stored(archive, document))
  for (const recording of small.recordings) entries.push(await keptIn(archive, recording))
  if (small.corrected !== undefined) entries.push(correction(opening, small.corrected))
  return entries
}

export async function addSmallJob(archive: Archive, small: SmallJob): Promise<void> {
  got(await archive.append(small.job, 0, await entriesOf(archive, small)))
}

async function stored(archive: Archive, value: unknown): Promise<Entry> {
  const document = got(await archive.storeDocument('response study', value))
  return { kind: 'document-stored', version: 1, ...head(), document, what: 'response study' }
}

async function* inOne(bytes: Uint8Array): AsyncGenerator<Uint8Array> {
  yield bytes
}

export async function keptIn(archive: Archive, { file, bytes }: SmallRecording): Promise<Entry> {
  const original = got(await archive.keepOriginal(inOne(bytes)))
  return { ...kept('any', { of: 'reference' }), sha256: original.sha256, bytes: original.bytes, file }
}

export async function preparedWithPhoto(archive: Archive, bytes: Uint8Array): Promise<Entry> {
  const { sha256: photo } = got(await archive.keepOriginal(inOne(bytes)))
  return {
    ...{ kind: 'place-prepared', version: 1, ...head(), subject: { of: 'hole', name: '1' }, photo },
    ...{ cleaned: { by: 'A. Invented', on: '2026-03-14' }, deburred: 'not needed', visual: 'clean', signed: false }
  }
}

type Opening = ReturnType<typeof opened>

const correction = (opening: Opening, component: string): Entry => ({
  ...{ kind: 'corrected', version: 1, corrects: opening.id, reason: 'the name was wrong' },
  ...head(),
  becomes: JSON.parse(canonical({ ...opening, job: { ...opening.job, component } }))
})

export { sha256 }
