import { isRefusal, type Result } from '@trueloop/ground/refusal'
import { type DrawingRow, type JobSummary, keepDrawing, overviewOf } from '@trueloop/host/chain'
import { bringDrawing } from '@trueloop/host/decide'
import type { Signer } from '@trueloop/host/keys'
import type { HeldArchive } from '../held-archive.ts'
import { plainName } from './plain-name.ts'

/** A drawing or photo as a page sends it. */
export interface SentDrawing {
  readonly file: string
  readonly title?: string
  readonly bytes: AsyncIterable<Uint8Array>
}

export interface Bringing {
  readonly archive: HeldArchive
  readonly job: string
  readonly signer: Signer
}

/**
 * Keeps a drawing and records it, once: the same bytes under the same name are the same drawing. Undefined where there is
 * no such job. Refuses chain/not-a-drawing, and what the record refuses.
 */
export async function bring(
  { archive, job, signer }: Bringing,
  sent: SentDrawing
): Promise<Result<DrawingRow | undefined>> {
  const file = plainName(sent.file, 'drawing')
  const before = await archive.use((open) => overviewOf(open, job))
  if (isRefusal(before) || before === undefined) return before
  const kept = await archive.useLong((open) => keepDrawing(open, { file, bytes: sent.bytes }))
  if (isRefusal(kept)) return kept
  const facts = { ...kept, file, ...(sent.title === undefined ? {} : { title: sent.title }) }
  const isSame = (one: DrawingRow) => one.sha256 === kept.sha256 && one.file === file && one.title === sent.title
  const there = (before as JobSummary).drawings.find(isSame)
  if (there !== undefined) return there
  return archive.write(async (open) => {
    const done = await bringDrawing(facts, { archive: open, job, signer })
    if (isRefusal(done)) return done
    const after = await overviewOf(open, job)
    return isRefusal(after) || after === undefined ? after : (after as JobSummary).drawings.find(isSame)
  })
}
