import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import { heldOn, type Registers, type Technique } from '@trueloop/job/plan'
import type { JobState } from '@trueloop/job/record'
import type { Archive } from '../archive/index.ts'
import { registersIn } from '../shop/index.ts'
import { refuse } from './codes.ts'

/**
 * What a decision rests on beside the people is the procedure with its criteria: in a job with registers its revision has
 * to be in force on the day of the decision. Refuses `decide/procedure-not-in-force`.
 */
export async function procedureComplaint(
  archive: Archive,
  { technique, opened }: JobState,
  day: string
): Promise<Result<undefined>> {
  if (technique === undefined || opened.signing !== 'required') return undefined
  const registers = await registersIn(archive)
  if (registers === undefined || isRefusal(registers)) return registers
  const document = await archive.document(technique)
  if (isRefusal(document)) return document
  return complaint(registers, (JSON.parse(document.text) as Technique).procedure, day)
}

type Procedure = Technique['procedure']

function complaint(registers: Registers, { id, revision }: Procedure, day: string): Refusal | undefined {
  const held = heldOn(registers, { what: 'procedure', name: id }, day)
  const row = 'registered' in held ? held.registered.row : undefined
  const ruling = row?.register === 'procedure' ? row.revision : undefined
  const isInForce = held.state === 'in force' || held.state === 'falls due'
  if (isInForce && ruling === revision) return undefined
  return refuse('decide/procedure-not-in-force', {
    found: `procedure ${id}, revision ${revision}, on ${day}: ${isInForce ? `revision ${ruling} is in force` : held.state}`,
    needed: 'the revision that was examined by, in force on the day of the decision',
    remedy: 'refer it; or examine by the revision that is in force and decide then'
  })
}
