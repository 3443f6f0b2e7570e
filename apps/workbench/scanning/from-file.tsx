import { useMutation, useQueryClient } from '@tanstack/react-query'
import { useRef } from 'react'
import { jobQuery } from '../asking/queries.ts'
import { upload } from '../asking/uploads.ts'
import { Trouble } from '../shell/refusals.tsx'
import { subjectText } from './subject.ts'
import { allowSound } from './tones.ts'
import type { Expected, WatchedFile } from './watch.ts'

const asked = (subject: Expected) => ('track' in subject ? { of: subject.of, name: subject.track } : subject)

interface FromFileProps {
  readonly job: string
  /** what the file is of; undefined while nobody has chosen */
  readonly of: Expected | undefined
  readonly by: string | undefined
  brought(file: WatchedFile): void
}

/** A recording that lies on this computer, for the place that is chosen: examined by the service as any other. */
export function FromFile({ job, of, by, brought }: FromFileProps) {
  const queries = useQueryClient()
  const input = useRef<HTMLInputElement>(null)
  const bring = useMutation({
    mutationFn: ({ file, subject }: { readonly file: File; readonly subject: Expected }) =>
      upload<WatchedFile>(job, 'recordings', { ...asked(subject), file: file.name }, file),
    onSuccess: (file) => {
      brought(file)
      void queries.invalidateQueries({ queryKey: jobQuery(job).queryKey })
    }
  })
  const words = of === undefined ? 'Recording from a file' : `Recording of ${subjectText(of)} from a file`
  return (
    <>
      <input
        ref={input}
        type="file"
        hidden
        aria-label="recording"
        onChange={({ target }) => {
          const [file] = target.files ?? []
          if (file !== undefined && of !== undefined) bring.mutate({ file, subject: of })
          target.value = ''
        }}
      />
      <button
        type="button"
        disabled={by === undefined || of === undefined || bring.isPending}
        onClick={() => {
          allowSound()
          input.current?.click()
        }}
      >
        {bring.isPending ? 'Being examined' : words}
      </button>
      {bring.error === null ? null : <Trouble error={bring.error} />}
    </>
  )
}
