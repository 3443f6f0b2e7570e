import type { JobSummary } from '../asking/client.ts'
import { useWriting } from '../units/use-writing.ts'

/** How small a flaw "no relevant indication" speaks of: what was demonstrated for this set-up, or that nothing was. */
export function WhatItShows({ job: { capability } }: { readonly job: Pick<JobSummary, 'capability'> }) {
  const { sentence } = useWriting()
  if (capability === undefined)
    return (
      <p className="shows">
        How small a flaw this set-up finds has not been demonstrated: a flaw of any size can have been missed, in the
        examined zones too.
      </p>
    )
  const { words, source, by } = capability
  return (
    <>
      <p className="shows">{`Demonstrated for this set-up: ${sentence(words)}`}</p>
      <p className="quiet">{`Source: ${source}. Attached by ${by}. A smaller flaw, and any flaw outside what was demonstrated, can have been missed.`}</p>
    </>
  )
}
