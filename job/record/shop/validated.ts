import type { Refusal } from '@trueloop/ground/refusal'
import { canonical } from '../canonical.ts'
import type { EntryRow } from '../row.ts'
import { type Code, refuse } from './codes.ts'
import type { ShopEntry, ShopEntryOf } from './kinds.ts'
import type { Looking } from './signer.ts'

/** Validations of an installation, and the methods of examination that were accepted after them. */

type Validated = ShopEntryOf<'installation-validated'>

export const validationsIn = (rows: readonly EntryRow[]): readonly Validated[] =>
  entriesIn(rows).filter((entry) => entry.kind === 'installation-validated')

const entriesIn = (rows: readonly EntryRow[]): readonly ShopEntry[] =>
  rows
    .filter(({ kind }) => kind === 'installation-validated' || kind === 'method-accepted')
    .map(({ body }) => JSON.parse(body) as ShopEntry)

/** A method that may be examined with in this shop, and who has accepted it. */
export interface Accepted {
  readonly application: ShopEntryOf<'method-accepted'>['application']
  readonly method: number
  readonly by: string
}

export const acceptedIn = (rows: readonly EntryRow[]): readonly Accepted[] =>
  entriesIn(rows).flatMap((entry) =>
    entry.kind === 'method-accepted'
      ? [{ application: entry.application, method: entry.method, by: entry.by.name }]
      : []
  )

/** The entry repeats what its document says. Refuses `shop/bad-document`. */
export function validationComplaint(entry: Validated, { witness }: Looking): Refusal<Code> | undefined {
  const told = toldBy(witness.document(entry.document))
  const { program, platform, methods, passed } = entry
  if (told !== undefined && canonical(told) === canonical({ program, platform, methods, passed })) return undefined
  return refuse('shop/bad-document', {
    found: `under ${entry.document}: ${told === undefined ? 'no record of a validation' : 'another outcome than the entry says'}`,
    needed: 'the stored record of the validation, and what it says of program, machine, methods and outcome',
    remedy: 'validate, and sign what comes out'
  })
}

function toldBy(text: string | undefined): Pick<Validated, 'program' | 'platform' | 'methods' | 'passed'> | undefined {
  try {
    const { kind, program, machine, methods, holds } = JSON.parse(text ?? '')
    return kind === 'validation' ? { program, platform: machine.system, methods, passed: holds } : undefined
  } catch {
    return undefined
  }
}

/** The validation has to be the last of that program on that machine, to have held, and to name the method. Refuses `shop/not-validated`. */
export function acceptanceComplaint(
  { validation, application, method }: ShopEntryOf<'method-accepted'>,
  { validations }: { readonly validations: readonly Validated[] }
): Refusal<Code> | undefined {
  const found = validations.find(({ id }) => id === validation)
  if (found === undefined) return notValidated('no validation')
  const last = validations.findLast((one) => isOfSame(one, found))
  if (last !== found) return notValidated('a validation after which there was another')
  if (!found.passed) return notValidated('a validation in which not all checks held')
  if (found.methods[application] === method) return undefined
  return notValidated(`a validation of method ${found.methods[application]} for ${application}, and not of ${method}`)
}

const isOfSame = (a: Validated, b: Validated): boolean =>
  a.platform === b.platform && canonical(a.program) === canonical(b.program)

const notValidated = (found: string): Refusal<Code> =>
  refuse('shop/not-validated', {
    found,
    needed: 'the last validation of this program on the machine, signed, in which all checks held, with that method',
    remedy: 'validate --as NAME, and then accept the method'
  })
