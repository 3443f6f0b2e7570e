import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query'
import { Link, useParams } from '@tanstack/react-router'
import { useEffect, useRef } from 'react'
import type { JobSummary } from '../asking/client.ts'
import { jobQuery } from '../asking/queries.ts'
import { useJobEvents } from '../asking/use-job-events.ts'
import { useSession } from '../session/session.ts'
import { usePreferences } from '../shell/preferences.tsx'
import { RefusalList, Trouble } from '../shell/refusals.tsx'
import { useTitle } from '../shell/use-title.ts'
import { allowSound, sound } from './tones.ts'
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
  if (!watch.data.watches) return <NoWatch job={job} />
  return <Scanning job={summary.data} watch={watch.data} />
}

function NoWatch({ job }: { readonly job: string }) {
  return (
    <div className="page">
      <h1>No folder is watched</h1>
      <p>Start the service with the folder that the instrument writes to: trueloop serve --watch FOLDER.</p>
      <Link to="/jobs/$job" params={{ job }}>
        {job}
      </Link>
    </div>
  )
}

interface ScanningProps {
  readonly job: JobSummary
  readonly watch: WatchView
}

function Scanning({ job, watch }: ScanningProps) {
  const queries = useQueryClient()
  const by = useSession()?.person?.name
  const { chosen, choose } = usePreferences()
  const say = useMutation({
    mutationFn: (expects: Expected | null) => expect(job.job, expects),
    onSuccess: (view) => queries.setQueryData(watchQuery(job.job).queryKey, view)
  })
  const file = watch.files.at(-1)
  useSound(file, chosen.sound)
  const next = job.places.find(({ state, name }) => state === 'not examined' && name !== nameOf(watch.expects))
  const go = (expects: Expected | null) => {
    allowSound()
    say.mutate(expects)
  }
  return (
    <div className="scan-page">
      <Told watch={watch} file={file} />
      {say.error === null ? null : <Trouble error={say.error} />}
      {watch.trouble === undefined ? null : <RefusalList refusals={[watch.trouble]} />}
      <div className="scan-next">
        {by === undefined ? <p className="quiet">Sign in first: what is scanned is recorded under your name.</p> : null}
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
            value={nameOf(watch.expects) ?? ''}
            disabled={by === undefined}
            onChange={({ target }) => go(expectedOf(job, target.value))}
          >
            <option value="">none: what comes waits</option>
            {(['reference', 'recheck'] as const).map((of) => (
              <option key={of} value={of}>
                {of}
              </option>
            ))}
            {job.places.map(({ of, name, state }) => (
              <option key={of + name} value={name}>
                {`${of} ${name}: ${state}`}
              </option>
            ))}
          </select>
        </label>
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
      </div>
      <Before files={watch.files.slice(0, -1)} />
    </div>
  )
}

const nameOf = (expects: WatchView['expects']): string | undefined =>
  expects === undefined ? undefined : 'name' in expects ? expects.name : expects.of

function expectedOf({ places }: JobSummary, value: string): Expected | null {
  if (value === '') return null
  if (value === 'reference' || value === 'recheck') return { of: value }
  const place = places.find(({ name }) => name === value)
  return place === undefined ? null : { of: place.of, name: place.name }
}

const subjectText = (subject: Expected): string => ('name' in subject ? `${subject.of} ${subject.name}` : subject.of)

/** Readable at two meters: the place, and one word of how it stands. */
function Told({ watch: { expects, by }, file }: { readonly watch: WatchView; readonly file: WatchedFile | undefined }) {
  const isOfThis =
    file?.subject !== undefined && (expects === undefined || subjectText(file.subject) === subjectText(expects))
  const subject = isOfThis ? file.subject : expects
  const word = isOfThis ? file.state : expects === undefined ? 'nothing is expected' : 'scan now'
  return (
    <section className={`scan-told ${toneOf(word)}`} aria-live="assertive">
      <p className="scan-place">{subject === undefined ? 'no place' : subjectText(subject)}</p>
      <p className="scan-word">
        <span aria-hidden="true">{signs[word] ?? '·'}</span> {word}
      </p>
      {isOfThis && file.why.length > 0 ? <RefusalList refusals={file.why} /> : null}
      <p className="quiet">
        {[file === undefined ? '' : file.file, by === undefined ? '' : `scanned by ${by}`].filter(Boolean).join(' · ')}
      </p>
    </section>
  )
}

const signs: Readonly<Record<string, string>> = { complete: '✓', 'scan again': '↺', 'scan now': '→', 'being read': '…' }

const toneOf = (word: string): string =>
  word === 'scan again' ? 'tone-red' : word === 'complete' ? 'tone-ink' : 'tone-amber'

function Before({ files }: { readonly files: readonly WatchedFile[] }) {
  if (files.length === 0) return null
  return (
    <section>
      <h2>Before</h2>
      <ul>
        {files.toReversed().map((file) => (
          <li key={file.file + file.at}>
            <b>{file.subject === undefined ? file.file : subjectText(file.subject)}</b>
            {`: ${file.state}${file.why.length === 0 ? '' : `: ${file.why.map(({ found }) => found).join('; ')}`}`}
          </li>
        ))}
      </ul>
    </section>
  )
}

/** Once for each file that becomes complete, or has to be scanned again, while the page looks. */
function useSound(file: WatchedFile | undefined, isOn: boolean): void {
  const told = useRef(file === undefined ? '' : file.file + file.at)
  useEffect(() => {
    if (file === undefined || (file.state !== 'complete' && file.state !== 'scan again')) return
    if (told.current === file.file + file.at) return
    told.current = file.file + file.at
    if (isOn) sound(file.state)
  }, [file, isOn])
}
