import { useMutation, useQueryClient } from '@tanstack/react-query'
import { useRef } from 'react'
import type { JobSummary, PlaceKey } from '../asking/client.ts'
import { jobQuery } from '../asking/queries.ts'
import { upload } from '../asking/uploads.ts'
import type { Drawing } from '../drawing/drawings.ts'
import { useOutbox } from '../outbox/use-outbox.ts'
import { Trouble } from '../shell/refusals.tsx'

interface PhotoProps {
  readonly job: JobSummary
  readonly place: PlaceKey
  /** who has signed in */
  readonly by: string
}

/** A photo of the place, taken now or from this computer: kept as an original, the place in its middle. */
export function PhotoOf({ job, place: { of, name }, by }: PhotoProps) {
  const queries = useQueryClient()
  const { take } = useOutbox()
  const input = useRef<HTMLInputElement>(null)
  const bring = useMutation({
    mutationFn: (file: File) =>
      upload<Drawing>(job.job, 'drawings', { file: file.name, title: `Photo of ${of} ${name}` }, file),
    onSuccess: async ({ sha256 }) => {
      // the photo itself is an entry: the statement has to have seen it
      const now = await queries.fetchQuery({ ...jobQuery(job.job), staleTime: 0 })
      const at = { x: 0.5, y: 0.5, page: 1 }
      take(
        { job: job.job, by, seen: now.entries },
        { what: 'place on a drawing', drawing: sha256, marks: [{ place: name, at }] }
      )
    }
  })
  return (
    <>
      <input
        ref={input}
        type="file"
        hidden
        accept="image/png,image/jpeg"
        capture="environment"
        aria-label="photo of this place"
        onChange={({ target }) => {
          const [file] = target.files ?? []
          if (file !== undefined) bring.mutate(file)
          target.value = ''
        }}
      />
      <button type="button" onClick={() => input.current?.click()} disabled={bring.isPending}>
        {bring.isPending ? 'Being kept' : 'Photo'}
      </button>
      {bring.error === null ? null : <Trouble error={bring.error} />}
    </>
  )
}
