import { useMutation, useQueryClient } from '@tanstack/react-query'
import { useRef } from 'react'
import { jobQuery } from '../asking/queries.ts'
import { upload } from '../asking/uploads.ts'
import { useSession } from '../session/session.ts'
import { Trouble } from '../shell/refusals.tsx'
import type { Drawing } from './drawings.ts'

interface BringProps {
  readonly job: string
  brought(sha256: string): void
}

/** Brings a drawing or photo from this computer or its camera into the record. */
export function BringDrawing({ job, brought }: BringProps) {
  const by = useSession()?.person?.name
  const queries = useQueryClient()
  const input = useRef<HTMLInputElement>(null)
  const bring = useMutation({
    mutationFn: (file: File) => upload<Drawing>(job, 'drawings', { file: file.name }, file),
    onSuccess: async ({ sha256 }) => {
      await queries.invalidateQueries({ queryKey: jobQuery(job).queryKey })
      brought(sha256)
    }
  })
  if (by === undefined) return null
  return (
    <>
      <input
        ref={input}
        type="file"
        hidden
        accept="image/png,image/jpeg,image/svg+xml,application/pdf"
        aria-label="drawing or photo"
        onChange={({ target }) => {
          const [file] = target.files ?? []
          if (file !== undefined) bring.mutate(file)
          target.value = ''
        }}
      />
      <button type="button" onClick={() => input.current?.click()} disabled={bring.isPending}>
        {bring.isPending ? 'Being kept' : 'Add drawing or photo'}
      </button>
      {bring.error === null ? null : <Trouble error={bring.error} />}
    </>
  )
}
