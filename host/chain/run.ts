import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import type { Entry } from '@trueloop/job/record'
import { signersDocument } from '../decide/index.ts'
import { refuse } from './codes.ts'
import { type ChainInput, JobContext } from './context.ts'
import { inTheFuture } from './future.ts'
import { keepAll } from './keep.ts'
import { notApproved, openingIn } from './open.ts'
import { heldFor } from './registered.ts'
import { type ChainRun, Walk, type Wanted } from './walk.ts'

/**
 * Leads the recordings of a sheet through the chain, in their order, and records each as soon as it is done. What an
 * earlier run has recorded with the same documents, columns and method is not done again; an interrupted run goes on.
 * A job that is not open yet is opened with the first of them: of a refused input nothing is recorded.
 * A reference scan that is refused ends the run. A scan that is refused is recorded as not examined; the others go on.
 */
export async function runChain(input: ChainInput, wanted: Wanted = {}): Promise<ChainRun> {
  const context = await JobContext.open(input)
  if (isRefusal(context)) return refusedRun([context])
  const no = notApproved(context) ?? unknownSubject(input, wanted)
  if (no !== undefined) return refusedRun([no])
  const early = inTheFuture(input)
  if (early.length > 0) return refusedRun(early)
  const opening = await openingIn(context)
  if (isRefusal(opening)) return refusedRun([opening])
  const signer = await signerIn(context)
  if (isRefusal(signer)) return refusedRun([signer])
  let walk: Walk | undefined
  try {
    const kept = await keepAll(context)
    if ('refusals' in kept) return refusedRun(kept.refusals)
    const held = await heldFor(context, kept)
    if ('refusals' in held) return refusedRun(held.refusals)
    walk = new Walk(context, wanted, [...opening.entries, ...signer, ...held.entries])
    return { ...(await walk.run(kept)), ...notesOf(held.notes) }
  } catch (error) {
    if (input.signal?.aborted !== true) throw error
    return { outcomes: walk?.outcomes ?? [], refusals: [], interrupted: true }
  }
}

/** What the sheet corrects is signed by a person whose document the job holds. */
const signerIn = async ({ rows, input }: JobContext): Promise<Result<readonly Entry[]>> =>
  input.signer === undefined ? [] : signersDocument(rows, { ...input, signer: input.signer })

const notesOf = (notes: readonly string[]): Pick<ChainRun, 'notes'> => (notes.length === 0 ? {} : { notes })

const refusedRun = (refusals: readonly Refusal[]): ChainRun => ({ outcomes: [], refusals, interrupted: false })

function unknownSubject({ sheet }: ChainInput, { subject }: Wanted): Refusal | undefined {
  if (subject === undefined) return undefined
  const known =
    'holes' in sheet
      ? sheet.holes.map(({ id }) => id)
      : 'tracks' in sheet
        ? sheet.tracks.map(({ id }) => id)
        : sheet.recordings.map((one) => one.place)
  if (known.includes(subject)) return undefined
  return refuse('chain/unknown-subject', {
    found: `"${subject}"`,
    needed: `one of ${known.slice(0, 12).join(', ')}`,
    remedy: 'correct the name, or add it to the job sheet'
  })
}
