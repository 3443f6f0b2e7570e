import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import { type Added, examineAdded, type Progress, placeOf } from '@trueloop/host/chain'
import type { Moment } from '@trueloop/host/clock'
import type { Crew } from '@trueloop/host/crew'
import { replayed } from '@trueloop/host/memory'
import type { JobState } from '@trueloop/job/record'
import type { IntakeFile, IntakeSubject } from '../api/schemas/index.ts'
import { refuse } from '../codes.ts'
import type { HeldArchive } from '../held-archive.ts'

/** One recording on its way into the record: kept, examined by this service, and judged in words. */

/** A recording of 20 million samples in three channels of 32-bit floats is half of it. Our own number. */
export const mostBytes = 512 * 1024 * 1024

export interface Incoming {
  readonly job: string
  readonly file: string
  readonly subject: IntakeSubject
  /** who scans */
  readonly by: string
  readonly bytes: AsyncIterable<Uint8Array>
  readonly taken?: Moment
  readonly signal?: AbortSignal
  readonly tell?: (progress: Progress) => void
  /** examines beside this thread, which answers meanwhile */
  readonly crew?: Crew | undefined
}

export type Verdict = Pick<IntakeFile, 'state' | 'why' | 'recording' | 'examination' | 'before'>

/**
 * Keeps the bytes and leads them through the chain. Undefined where there is no such job. Refuses service/too-large,
 * service/empty-file, and what keeping refuses; what the chain refuses is a verdict: scan again, and why.
 */
export async function takeIn(archive: HeldArchive, incoming: Incoming): Promise<Result<Verdict | undefined>> {
  const { job, file, subject, by, taken, signal, tell, crew } = incoming
  const counted = new Counted(incoming.bytes)
  const kept = await archive.useLong((open) => open.keepOriginal(counted))
  if (counted.isTooLarge) return tooLarge(file)
  if (isRefusal(kept)) return kept
  if (counted.count === 0) return empty(file)
  return archive.write(async (open) => {
    const rest = {
      ...(taken === undefined ? {} : { taken }),
      ...(signal === undefined ? {} : { signal }),
      ...(tell === undefined ? {} : { tell }),
      ...(crew === undefined ? {} : { crew })
    }
    const added = await examineAdded({ archive: open, job, original: kept, file, of: subject, examinedBy: by, ...rest })
    if (added === undefined) return undefined
    if (isRefusal(added))
      return isOfArchive(added) ? added : { state: 'scan again', why: [plain(added)], recording: kept.sha256 }
    const rows = await open.entries(job)
    return isRefusal(rows) ? rows : verdictOf(added as Added, replayed(rows))
  })
}

const isOfArchive = ({ code }: Refusal): boolean => code.startsWith('archive/')

const plain = ({ refused: _, ...reason }: Refusal): IntakeFile['why'][number] => reason

/** Complete: read, judged, every zone examined. Else what is missing, in words. */
export function verdictOf({ outcome }: Pick<Added, 'outcome'>, state: JobState): Verdict {
  const { recording, before } = outcome
  if (outcome.did === 'standardized') return { state: 'complete', why: [], recording, before }
  if (outcome.did === 'recheck') {
    const unread = outcome.unread === undefined ? [] : [plain(outcome.unread)]
    const why = outcome.passed ? [] : unread.length > 0 ? unread : [failed()]
    return { state: outcome.passed ? 'complete' : 'scan again', why, recording, before }
  }
  if (outcome.did === 'parent metal') {
    const why = outcome.unread === undefined ? [] : [plain(outcome.unread)]
    return { state: why.length === 0 ? 'complete' : 'scan again', why, recording, before }
  }
  const why = [...outcome.reasons.map(plain), ...gapsIn(outcome, state)]
  const { examination } = outcome
  return { state: why.length === 0 ? 'complete' : 'scan again', why, recording, examination, before }
}

type Examined = Extract<Added['outcome'], { did: 'examined' }>

/** Zones that this scan has not covered, where its refusals do not say so already. */
function gapsIn({ of, recording, reasons }: Examined, state: JobState): IntakeFile['why'] {
  const place = 'name' in of ? placeOf(state, of) : undefined
  const zones = place?.examinations.find((one) => one.recording === recording)?.zones ?? []
  const isTold = (why: readonly string[]) => why.some((one) => reasons.some(({ found }) => one.includes(found)))
  const gaps = new Map<string, string[]>()
  for (const { zone, covered, state: is, why } of zones) {
    if (is === 'examined' || isTold(why)) continue
    const words = `${Math.floor(100 * covered)} % covered${why.length === 0 ? '' : ` (${why.join('; ')})`}`
    gaps.set(words, [...(gaps.get(words) ?? []), zone])
  }
  return [...gaps].map(([words, all]) => gap(`${all.join(', ')}: ${words}`))
}

const gap = (found: string) =>
  plain(
    refuse('service/zone-not-covered', {
      found,
      needed: 'every zone examined',
      remedy: 'scan the place again, slowly enough and through the whole of it'
    })
  )

const failed = () =>
  plain(
    refuse('service/recheck-failed', {
      found: 'a recheck outside its allowance',
      needed: 'the notch as it was when the set-up was standardized',
      remedy: 'standardize anew, then scan again what the record says is void'
    })
  )

export const tooLarge = (file: string): Refusal =>
  refuse('service/too-large', {
    found: `${file}: more than ${mostBytes / 1024 / 1024} MiB`,
    needed: 'one recording of one place',
    remedy: 'take it in from the command line (examine), which has no limit'
  })

const empty = (file: string): Refusal =>
  refuse('service/empty-file', {
    found: `${file}: no bytes`,
    needed: 'a recording',
    remedy: 'send the file again once it is written'
  })

/** Stops reading where it is too much: what was read until then is not kept. */
class Counted implements AsyncIterable<Uint8Array> {
  count = 0
  isTooLarge = false
  readonly #bytes: AsyncIterable<Uint8Array>

  constructor(bytes: AsyncIterable<Uint8Array>) {
    this.#bytes = bytes
  }

  async *[Symbol.asyncIterator](): AsyncGenerator<Uint8Array> {
    for await (const piece of this.#bytes) {
      this.count += piece.length
      this.isTooLarge = this.count > mostBytes
      if (this.isTooLarge) throw new Error('more bytes than a recording may have')
      yield piece
    }
  }
}
