import type { Refusal } from '@trueloop/ground/refusal'
import type { ResponseStudy } from '../plan/index.ts'
import type { Kind, Kinds } from './kinds.ts'
import type { SizedUnder } from './measured.ts'
import type { Sizing } from './parameters.ts'
import { type Met, type Setup, studyAgainst } from './ratio.ts'

/** Response studies: where a kind has too few notches, others may stand for them with the scatter of a named study. */

export interface Studied {
  readonly study: ResponseStudy | undefined
  /** why none holds */
  readonly why: readonly Refusal[]
}

export const metOf = (kinds: readonly Kind[], setup: Setup): Met => ({
  setup,
  kinds: kinds.flatMap(({ name }) => (name === 'track' ? [] : [name]))
})

/** The study that holds for the set-up and the kinds; none is asked for where each kind has notches enough. */
export function studyFor({ own }: Kinds, { documents }: SizedUnder, { leastNotches }: Sizing): Studied {
  const few = own.some(({ notches }) => notches.length < leastNotches)
  if (!few || documents === undefined) return { study: undefined, why: [] }
  const { setup, studies } = documents
  const met = metOf(own, setup)
  const against = studies.map((study) => studyAgainst(study, met))
  const at = against.indexOf(undefined)
  return at < 0 ? { study: undefined, why: against.flatMap((one) => one ?? []) } : { study: studies[at], why: [] }
}

/** A study says nothing of depths beyond its own cracks. */
export function studyAgainstDepth(
  study: ResponseStudy | undefined,
  { kinds, under, depth_mm }: { readonly kinds: readonly Kind[]; readonly under: SizedUnder; readonly depth_mm: number }
): Refusal | undefined {
  if (study === undefined || under.documents === undefined) return undefined
  return studyAgainst(study, { ...metOf(kinds, under.documents.setup), depth_mm })
}
