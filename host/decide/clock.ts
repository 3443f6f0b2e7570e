import { isRefusal, type Result } from '@trueloop/ground/refusal'
import { type Entry, entryId } from '@trueloop/job/record'
import type { Archive } from '../archive/index.ts'
import { type Moment, now } from '../clock/index.ts'
import { sha256 } from '../hash/index.ts'
import { type Decided, noJob, state } from './decide.ts'
import { type Signing, seen } from './signer.ts'

/** Where nobody signs with a key: without registers the person who examines stands for it, by name alone. */
export type Unsigned = Omit<Signing, 'signer'> & { readonly archive: Archive; readonly clock?: () => Moment }

/** A person says that the clock of this computer was wrong; what is written after it may be earlier than what stands before it. */
export async function correctClock(reason: string, signing: Signing | Unsigned): Promise<Result<Decided>> {
  if ('signer' in signing) return state({ kind: 'clock-corrected', reason }, signing)
  const { archive, job, clock = now } = signing
  const before = await seen(archive, job)
  if (isRefusal(before)) return before
  if (before === undefined) return noJob(job)
  const {
    rows,
    state: { opened }
  } = before
  const about = { kind: 'clock-corrected', version: 1, reason, signed: false } as const
  const by = { kind: 'person', name: opened.examinedBy } as const
  const entry: Entry = { ...about, id: entryId(sha256, { ...about, after: rows.length }), at: clock(), by }
  const done = await archive.append(job, rows.length, [entry])
  return isRefusal(done) ? done : { added: [entry.kind], places: before.state.places }
}
