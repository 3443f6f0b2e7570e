interface CodesProps {
  readonly text: string
  write(text: string): void
}

/** What is said often of a weld, one touch each. Common practice, no source; the words are ours. */
const codes = [
  ['NA', 'no access'],
  ['LP', 'loose paint'],
  ['SP', 'spatter left on the plate'],
  ['RU', 'rust under the paint'],
  ['WE', 'wet surface'],
  ['UN', 'probe could not be held square']
] as const

/** Short codes for notes: on ropes nobody types. What is written into the record are the words. */
export function NoteCodes({ text, write }: CodesProps) {
  return (
    <fieldset className="note-codes" aria-label="short notes">
      {codes.map(([code, words]) => (
        <button
          key={code}
          type="button"
          title={words}
          aria-label={`${code}: ${words}`}
          onClick={() => write(text.trim() === '' ? words : `${text.trim()}; ${words}`)}
        >
          {code}
        </button>
      ))}
    </fieldset>
  )
}
