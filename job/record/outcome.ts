import type { Examination, Indication } from '../examine/index.ts'
import { canonical } from './canonical.ts'
import type { Hash } from './chain.ts'
import type { IndicationOutcome } from './kinds/examining.ts'
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
  ...repeatedOf(examination)
})

/** The same without its name, for whoever has it from its bytes already. */
export const repeatedOf = (examination: Examination): Omit<Outcome, 'examination'> => ({
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
  sizeWithheld: one.size.withheld.length > 0,
  ...(one.cause === undefined ? {} : { cause: one.cause }),
  ...(one.angle_rad === 'unknown' ? {} : { angle_rad: one.angle_rad }),
  ...(one.z_m === 'unknown' ? {} : { z_m: one.z_m }),
  ...(one.z0_m === 'unknown' ? {} : { z0_m: one.z0_m }),
  ...(one.z1_m === 'unknown' ? {} : { z1_m: one.z1_m })
})

/** Members of an indication that entries of earlier programs do not repeat from the examination. */
const later = ['cause', 'angle_rad', 'z_m', 'z0_m', 'z1_m'] as const

/** The outcome as far as an entry repeats it: what an earlier program did not write is not missing. */
export const asFarAsWritten = (told: Outcome, written: readonly IndicationOutcome[]): Outcome => ({
  ...told,
  indications: told.indications.map((one, at) => {
    const row = written[at]
    if (row === undefined || later.some((key) => key in row)) return one
    return Object.fromEntries(Object.entries(one).filter(([key]) => !later.some((name) => name === key))) as typeof one
  })
})
