import type { Examination, Indication } from '../examine/index.ts'
import { canonical } from './canonical.ts'
import type { Hash } from './chain.ts'
import type { EntryOf } from './kinds.ts'

type Outcome = Pick<
  EntryOf<'examined'>,
  'examination' | 'recording' | 'standardization' | 'method' | 'zones' | 'indications' | 'refusals'
>

/** What of an examination is the record's: the picture is a derived cache that may be deleted. */
export function findings(examination: Examination): Omit<Examination, 'picture'> {
  const { picture: _cache, ...rest } = examination
  return rest
}

/** The members of an `examined` entry that follow from its examination. `hash` gives hex SHA-256 of a text. */
export const outcomeOf = (examination: Examination, hash: Hash): Outcome => ({
  examination: hash(canonical(findings(examination))),
  recording: examination.recording,
  standardization: examination.standardization,
  method: examination.method,
  zones: examination.zones.map(({ zone, state, covered, why }) => ({ zone, state, covered, why: [...why] })),
  indications: examination.indications.map(indicationOutcome),
  refusals: examination.refusals.map(({ code }) => code)
})

const indicationOutcome = (one: Indication): Outcome['indications'][number] => ({
  id: one.id,
  zone: one.zone,
  class: one.class,
  crossedAlarm: one.crossedAlarm,
  amplitude: one.amplitude,
  sizeWithheld: one.size.withheld.length > 0
})
