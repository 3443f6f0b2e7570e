import type { PlaceDetail, StoredExamination } from '../asking/client.ts'
import { useWriting } from '../units/use-writing.ts'

type Document = StoredExamination['document']
type Indication = Document['indications'][number]

interface EvidenceProps {
  readonly place: PlaceDetail
  readonly document: Document
  readonly chosen: string | undefined
}

const stateFirst =
  'The technique asks for your class before the proposal is shown: look at the signal, and state a class under your name. What is proposed, and why, is shown after that.'

/** Why an indication was called so: what spoke for it and what against, and its size as far as it is known. */
export function Evidence({ place, document, chosen }: EvidenceProps) {
  const joined = place.indications.find(({ id }) => id === chosen)
  const seen = joined?.seen.find(({ recording }) => recording === document.recording)
  const own = document.indications.find(({ id }) => id === seen?.id)
  if (joined === undefined) return null
  if (joined.hidden === true) return <p>{stateFirst}</p>
  if (own === undefined) return <p className="quiet">{`${joined.id} was not seen in this scan: ${joined.says}.`}</p>
  return (
    <div className="evidence">
      <p className="cause">
        <b>{own.class}</b>
        {own.cause === undefined ? null : `: taken for ${own.cause}`}
        {own.crossedAlarm ? '; above the alarm level' : ''}
        {own.class === joined.proposed ? null : `; ${joined.says}`}
      </p>
      <Spoken evidence={own.evidence} />
      <Size own={own} />
    </div>
  )
}

function Spoken({ evidence }: Pick<Indication, 'evidence'>) {
  const { sentence } = useWriting()
  const groups = [
    { word: 'spoke for', signs: evidence.filter(({ speaks }) => speaks === 'for') },
    { word: 'spoke against', signs: evidence.filter(({ speaks }) => speaks === 'against') }
  ].filter(({ signs }) => signs.length > 0)
  return (
    <>
      {evidence
        .filter(({ speaks }) => speaks === 'neither')
        .map((one) => (
          <p key={one.sentence}>{sentence(one.sentence)}</p>
        ))}
      {groups.map(({ word, signs }) => (
        <div key={word} className={word === 'spoke for' ? 'spoken for' : 'spoken against'}>
          <h3>{word}</h3>
          <ul>
            {signs.map((one) => (
              <li key={one.sentence}>{sentence(one.sentence)}</li>
            ))}
          </ul>
        </div>
      ))}
    </>
  )
}

function Size({ own: { size } }: { readonly own: Indication }) {
  const { sentence } = useWriting()
  const rows = [
    ['depth', size.depth],
    ['along the axis', size.extent],
    ...(size.length === undefined ? [] : [['length', size.length]]),
    ...(size.basis === undefined ? [] : [['told by', size.basis]])
  ] as const
  return (
    <dl className="size">
      {rows.map(([term, text]) => (
        <div key={term}>
          <dt>{term}</dt>
          <dd>{sentence(text ?? '')}</dd>
        </div>
      ))}
      {size.withheld.map((why) => (
        <div key={why}>
          <dt>withheld</dt>
          <dd className="failed">{sentence(why)}</dd>
        </div>
      ))}
    </dl>
  )
}
