import { canonical, type Entry, type EntryOf } from '@trueloop/job/record'
import type { JobContext } from './context.ts'

/** Checks of probes that the sheet has and the record has not. One that is gone from the sheet stays. */
export function probeChecks(context: JobContext): readonly Entry[] {
  const { sheet } = context.input
  if (!('probe_checks' in sheet)) return []
  const known = new Set(context.state?.probeChecks.map(({ check }) => canonical(check)))
  return (sheet.probe_checks ?? [])
    .filter((check) => !known.has(canonical(check)))
    .map((check) => {
      const facts: Pick<EntryOf<'probe-checked'>, 'check'> = { check }
      return context.entry(
        { kind: 'probe-checked', ...facts, signed: false },
        { kind: 'probe-checked', check },
        'person'
      )
    })
}
