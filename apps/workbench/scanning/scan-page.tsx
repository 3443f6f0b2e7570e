import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query'
import { useParams } from '@tanstack/react-router'
import { useState } from 'react'
import type { JobSummary } from '../asking/client.ts'
import { jobQuery } from '../asking/queries.ts'
import { useJobEvents } from '../asking/use-job-events.ts'
import { useSession } from '../session/session.ts'
import { usePreferences } from '../shell/preferences.tsx'
import { RefusalList, Trouble } from '../shell/refusals.tsx'
import { useTitle } from '../shell/use-title.ts'
import { FromFile } from './from-file.tsx'
import { expectedOf, nameOf } from './subject.ts'
import { Before, Told } from './told.tsx'
import { allowSound } from './tones.ts'
import { useSound } from './use-sound.ts'
import { type Expected, expect, type WatchedFile, type WatchView, watchQuery } from './watch.ts'

/** Beside the part: which place is scanned next, and at once whether the recording of it is complete. */
export function ScanPage() {
  const { job } = useParams({ from: '/jobs/$job/scan' })
  useTitle(`scan · ${job}`)
  useJobEvents(job)
  const summary = useQuery(jobQuery(job))
  const watch = useQuery(watchQuery(job))
  const error = summary.error ?? watch.error
  if (error !== null && watch.data === undefined)
    return (
      <div className="page">
        <Trouble error={error} />
      </div>
    )
  if (summary.data === undefined || watch.data === undefined) return <div className="page" />
  return <Scanning job={summary.data} watch={watch.data} />
}

/** What the next recording is of: where a folder is watched the service has to know it too. */
function useExpected(job: string, watch: WatchView) {
  const queries = useQueryClient()
  const [own, setOwn] = useState<Expected>()
  const say = useMutation({
    mutationFn: (expects: Expected | null) => expect(job, expects),
    onSuccess: (view) => queries.setQueryData(watchQuery(job).queryKey, view)
  })
  return {
    expects: watch.watches ? watch.expects : own,
    error: say.error,
    go: (expects: Expected | null) => {
      allowSound()
      if (watch.watches) say.mutate(expects)
      else setOwn(expects ?? undefined)
    }
  }
}

interface ScanningProps {
  readonly job: JobSummary
  readonly watch: WatchView
}

function Scanning({ job, watch }: ScanningProps) {
  const by = useSession()?.person?.name
  const { chosen } = usePreferences()
  const { expects, error, go } = useExpected(job.job, watch)
  const [brought, setBrought] = useState<readonly WatchedFile[]>([])
  const files = [...watch.files, ...brought].toSorted((a, b) => a.at.localeCompare(b.at))
  const file = files.at(-1)
  useSound(file, chosen.sound)
  return (
    <div className="scan-page">
      <Told expects={expects} by={watch.by} file={file} />
      {error === null ? null : <Trouble error={error} />}
      {watch.trouble === undefined ? null : <RefusalList refusals={[watch.trouble]} />}
      {watch.watches ? null : (
        <p className="quiet">
          No folder is watched. To have recordings taken in as they appear, start the service with the folder that the
          instrument writes to: trueloop serve --watch FOLDER.
        </p>
      )}
      <div className="scan-next">
        {by === undefined ? <p className="quiet">Sign in first: what is scanned is recorded under your name.</p> : null}
        <NextPlace job={job} expects={expects} by={by} go={go} />
        <FromFile
          job={job.job}
          of={expects}
          by={by}
          brought={(one) => setBrought((before) => [...before, one].slice(-20))}
        />
        <Sound />
      </div>
      <Before files={files.slice(0, -1)} />
    </div>
  )
}

interface NextProps {
  readonly job: JobSummary
  readonly expects: Expected | undefined
  readonly by: string | undefined
  go(expects: Expected | null): void
}

function NextPlace({ job, expects, by, go }: NextProps) {
  const next = job.places.find(({ state, name }) => state === 'not examined' && name !== nameOf(expects))
  return (
    <>
      {next === undefined ? null : (
        <button
          type="button"
          className="action large"
          disabled={by === undefined}
          onClick={() => go({ of: next.of, name: next.name })}
        >
          {`Next: ${next.of} ${next.name}`}
        </button>
      )}
      <label className="field">
        <span>place</span>
        <select
          value={nameOf(expects) ?? ''}
          disabled={by === undefined}
          onChange={({ target }) => go(expectedOf(job, target.value))}
        >
          <option value="">none: what comes waits</option>
          {(['reference', 'recheck'] as const).map((of) => (
            <option key={of} value={of}>
              {of}
            </option>
          ))}
          {job.places.flatMap(({ of, name }) =>
            of === 'track'
              ? [
                  <option key={`parent ${name}`} value={`parent ${name}`}>
                    {`parent metal beside ${name}`}
                  </option>
                ]
              : []
          )}
          {job.places.map(({ of, name, state }) => (
            <option key={of + name} value={name}>
              {`${of} ${name}: ${state}`}
            </option>
          ))}
        </select>
      </label>
    </>
  )
}

function Sound() {
  const { chosen, choose } = usePreferences()
  return (
    <label className="person-choice">
      <input
        type="checkbox"
        checked={chosen.sound}
        onChange={({ target }) => {
          allowSound()
          choose({ sound: target.checked })
        }}
      />
      <span>sound</span>
    </label>
  )
}
