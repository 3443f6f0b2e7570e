import type { Entry } from '@trueloop/job/record'
import { head, invent, opened, personStored, signedBy } from '@trueloop/job/record/testing'
import type { Archive } from '../../archive/index.ts'
import { got } from './small-job.ts'

/** An invented job that holds a person, and two statements that the person signed one after the other, as days go. */
export async function addSignedJob(archive: Archive, job = 'S-4'): Promise<void> {
  const two = invent('B. Two')
  got(await archive.storeDocument('person', two.row))
  const add = async (entry: Entry) => got(await archive.append(job, got(await archive.end(job)).count, [entry]))
  await add({ ...opened(job, ['1', '2', '3']), signing: 'required' })
  await add(personStored(two))
  for (const name of ['1', '2', '3']) {
    const draft = { kind: 'left-out', subject: { of: 'hole', name }, reason: 'no access' }
    const seen = { job, head: got(await archive.end(job)).head }
    await add(signedBy(two, { version: 1, ...head(), ...draft } as never, seen))
  }
  const handed = { kind: 'clock-corrected', reason: 'it was an hour late' }
  const seen = { job, head: got(await archive.end(job)).head }
  await add(signedBy(two, { version: 1, ...head(), ...handed } as never, seen))
}
