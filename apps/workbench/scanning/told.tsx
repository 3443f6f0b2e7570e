import { RefusalList } from '../shell/refusals.tsx'
import { subjectText } from './subject.ts'
import type { Expected, WatchedFile } from './watch.ts'

interface ToldProps {
  readonly expects: Expected | undefined
  /** who scans */
  readonly by: string | undefined
  readonly file: WatchedFile | undefined
}

/** Readable at two meters: the place, and one word of how it stands. */
export function Told({ expects, by, file }: ToldProps) {
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

export function Before({ files }: { readonly files: readonly WatchedFile[] }) {
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
