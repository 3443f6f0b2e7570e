import type { Refusal } from '@trueloop/ground/refusal'
import { type PersonRow, personRowSchema, standingsOn } from '../plan/index.ts'
import { type Code, refuse } from './codes.ts'
import type { Signature } from './kinds/parts.ts'
import type { Entry, EntryKind } from './kinds.ts'
import type { EntryRow } from './row.ts'
import { signatureOf, signedText, type Witness } from './signing.ts'

/** Who may sign what. Levels as ISO 9712 and NAS 410 have them: Level I does not interpret (common practice, no source). */

const all = ['I', 'II', 'III'] as const
const interpreters = ['II', 'III'] as const

const levels: Partial<Record<EntryKind, readonly PersonRow['level'][]>> = {
  'technique-confirmed': ['III'],
  'capability-attached': ['III'],
  interpreted: interpreters,
  disposed: interpreters,
  'second-look': interpreters,
  reamed: all,
  noted: all,
  'place-closed': interpreters,
  'left-out': interpreters,
  'job-closed': interpreters,
  'job-reopened': interpreters,
  delivered: interpreters,
  'handed-over': all,
  'taken-over': all,
  'clock-corrected': interpreters,
  'practice-marked': interpreters,
  'drawing-kept': all,
  'places-drawn': all,
  merged: interpreters,
  corrected: interpreters
}

/** What a signature is looked at with: the chain's name and heads, and what people's documents say. */
export interface Signing {
  readonly job: string
  /** whether this is the head that the person can have had before their eyes */
  readonly isHead: (hash: string) => boolean
  /** whether the job holds this document of a person */
  readonly isKnown: (document: string) => boolean
  readonly witness: Witness | undefined
}

/**
 * Whether a signed entry is signed by a person who may, on a day on which they may. Refuses `record/bad-signature`,
 * `record/no-right`, `record/person-expired`.
 */
export function signatureComplaint(entry: Entry, signing: Signing): Refusal<Code> | undefined {
  const signature = signatureOf(entry)
  if (signature === undefined) return undefined
  const person = personOf(signature, signing)
  if (typeof person === 'string') return bad(entry, person)
  const text = signedText(signing.job, entry)
  if (signing.witness?.holds(person.key.public, text, signature.value) !== true) {
    return bad(entry, `a signature that ${person.name} did not make on this entry`)
  }
  if (!signing.isHead(signature.over)) return bad(entry, 'a signature on another state of the record')
  if (entry.by.kind !== 'person' || entry.by.name !== person.name) {
    return bad(entry, `an entry by ${entry.by.name}, signed by ${person.name}`)
  }
  return levelComplaint(entry, person) ?? dayComplaint(entry, person)
}

function personOf({ person }: Signature, { witness, isKnown }: Signing): PersonRow | string {
  const text = isKnown(person) ? witness?.document(person) : undefined
  if (text === undefined) return 'a signature of somebody whose document the job does not hold'
  const row = personRowSchema.safeParse(JSON.parse(text))
  return row.success ? row.data : 'a signature of a document that is no person'
}

const bad = (entry: Entry, found: string): Refusal<Code> =>
  refuse('record/bad-signature', {
    found: `${found} (entry "${entry.id}" of kind "${entry.kind}")`,
    needed: 'the signature of the person whose entry it is, over the entry and the head of the chain as it is now',
    remedy: 'read the record again and sign again'
  })

function levelComplaint(entry: Entry, { name, level }: PersonRow): Refusal<Code> | undefined {
  const allowed = levels[entry.kind]
  const claims = entry.kind === 'technique-confirmed' && (entry.name !== name || entry.level !== level)
  if (allowed?.includes(level) === true && !claims) return undefined
  return refuse('record/no-right', {
    found: claims
      ? `a confirmation in the name of ${entry.name}, level ${entry.level}, signed by ${name}, level ${level}`
      : `${name}, level ${level}, for an entry of kind "${entry.kind}"`,
    needed: claims ? 'the own name and level' : `level ${(allowed ?? []).join(' or ')}`,
    remedy: 'let a person sign who may'
  })
}

/** Whether a job holds this document as that of a person. */
export const holdsPerson = (rows: readonly EntryRow[], document: string): boolean =>
  rows.some(
    ({ kind, body }) =>
      kind === 'document-stored' && body.includes(`"document":"${document}"`) && body.includes('"what":"person"')
  )

/** A certificate holds on its last day. Days are those of the entry's own time. */
function dayComplaint({ at }: Entry, person: PersonRow): Refusal<Code> | undefined {
  const today = at.time.slice(0, 10)
  const out = standingsOn(person, today).find(
    ({ standing }) => standing === 'expired' || standing === 'not yet in force'
  )
  if (out === undefined) return undefined
  return refuse('record/person-expired', {
    found: `${out.of} of ${person.name}, from ${out.from} to ${out.until}, on ${today}`,
    needed: 'a certificate and near vision that hold on the day',
    remedy: 'renew it in the register, or let another person sign'
  })
}

/** Kinds that are never written unsigned in a job whose archive has registers. */
const stated: readonly EntryKind[] = [
  ...(['technique-confirmed', 'place-closed', 'corrected', 'clock-corrected'] as const)
]

export const notSigned = (entry: Entry, signing: 'required' | undefined): Refusal<Code> | undefined => {
  if (signing === undefined || !stated.includes(entry.kind) || signatureOf(entry) !== undefined) return undefined
  return refuse('record/not-signed', {
    found: `an unsigned entry of kind "${entry.kind}"`,
    needed: 'the signature of a person of the register: this job was opened with registers',
    remedy: 'say who signs, and unlock their key'
  })
}

/** A technique that names who answers for it is approved by that person alone. */
export function approverComplaint(entry: Entry, witness: Witness | undefined): Refusal<Code> | undefined {
  if (entry.kind !== 'technique-confirmed' || entry.signed === false) return undefined
  const text = witness?.document(entry.technique)
  const { approver } = (text === undefined ? {} : JSON.parse(text)) as { readonly approver?: string }
  if (approver === undefined || approver === entry.by.name) return undefined
  return refuse('record/other-approver', {
    found: `an approval by ${entry.by.name}`,
    needed: `that of ${approver}, whom the technique names`,
    remedy: 'let the named person approve it'
  })
}
