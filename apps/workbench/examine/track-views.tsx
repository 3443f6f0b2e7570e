import { loopFigure, placeOnTrack, profileFigure, trackFigure } from '@trueloop/job/record/figures'
import type { Standardization } from '@trueloop/job/standardize'
import { useMemo, useState } from 'react'
import type { StoredExamination } from '../asking/client.ts'
import { DecidePanel } from '../decide/decide-panel.tsx'
import { useKeys } from '../shell/use-keys.ts'
import { useWriting } from '../units/use-writing.ts'
import { Evidence } from './evidence.tsx'
import { Figure } from './figure.tsx'
import { Indications } from './indications.tsx'
import { firstOpen, neighborOf } from './picking.ts'
import type { ScanProps } from './scan-props.ts'
import { Scans } from './scans.tsx'
import { Sheets } from './sheets.tsx'

type Document = StoredExamination['document']

interface TrackProps extends ScanProps {
  readonly document: Document
  readonly standardization: Standardization | undefined
}

/** A track along a weld: position across, the coating as a band under it; or a loop, which has no place. */
export function TrackViews({ job, place, document, standardization, scan, setScan }: TrackProps) {
  const [chosen, pick] = useState(() => firstOpen(place))
  useKeys({
    '[': () => pick(neighborOf(place, chosen, -1)),
    ']': () => pick(neighborOf(place, chosen, 1))
  })
  const one = ownIndication({ place, document, chosen })
  const isTrack = place.of === 'track'
  return (
    <div className="views">
      <div className="track-area">
        {isTrack ? <TrackMap {...{ place, document, chosen, pick }} /> : null}
        {isTrack ? <Coating document={document} /> : null}
        <Scans job={job} place={place} scan={scan} setScan={setScan} />
      </div>
      <Sheets
        why={
          <>
            <Indications job={job} place={place} chosen={chosen} pick={pick} basis={document.position.angle} />
            <Evidence place={place} document={document} chosen={chosen} />
          </>
        }
        loop={one === undefined ? null : <Signal one={one} document={document} standardization={standardization} />}
        decide={
          <DecidePanel job={job} place={place} chosen={chosen} step={(by) => pick(neighborOf(place, chosen, by))} />
        }
      />
    </div>
  )
}

/** The chosen indication as this scan has it. */
function ownIndication({
  place,
  document,
  chosen
}: Pick<TrackProps, 'place' | 'document'> & { chosen: string | undefined }) {
  const joined = place.indications.find(({ id }) => id === chosen)
  const seen = joined?.seen.find(({ recording }) => recording === document.recording)
  return document.indications.find(({ id }) => id === seen?.id)
}

interface MapProps extends Pick<TrackProps, 'place' | 'document'> {
  readonly chosen: string | undefined
  pick(id: string): void
}

function TrackMap({ place, document, chosen, pick }: MapProps) {
  const length_mm = place.listed.length_mm ?? Math.max(1, ...document.zones.map(({ z1_m }) => 1e3 * z1_m))
  const svg = useMemo(() => trackFigure(asExamination(document), length_mm), [document, length_mm])
  return (
    <div className="track-map">
      <Figure svg={svg} />
      {place.indications.map((joined) => {
        const own = ownIndication({ place, document, chosen: joined.id })
        if (own === undefined || typeof own.z0_m !== 'number' || typeof own.z1_m !== 'number') return null
        const { from, to } = placeOnTrack({ from_mm: 1e3 * own.z0_m, to_mm: 1e3 * own.z1_m }, length_mm)
        return (
          <button
            key={joined.id}
            type="button"
            className="on-track"
            aria-pressed={joined.id === chosen}
            aria-label={`indication ${joined.id}`}
            style={{ left: `${50 * (from + to)}%`, width: `max(44px, ${100 * (to - from)}%)` }}
            onClick={() => pick(joined.id)}
          />
        )
      })}
    </div>
  )
}

/** The answer of the service is the document as it was stored: its drawing takes it as that. */
const asExamination = (document: Document) => document as unknown as Parameters<typeof trackFigure>[0]

function Coating({ document: { coating } }: Pick<TrackProps, 'document'>) {
  const { sentence } = useWriting()
  if (coating === undefined) return null
  const { apparent, given_mm, parent, parentWhy } = coating
  const figure = (value: number | undefined) =>
    value === undefined ? 'above the thickest shim' : `${value.toFixed(2)} mm`
  const beside = parent?.coating
  const facts: readonly (readonly [string, string])[] = [
    [
      'apparent coating',
      apparent === undefined
        ? 'not measured'
        : `${figure(apparent.least_mm)} to ${figure(apparent.greatest_mm)}, median ${figure(apparent.median_mm)}`
    ],
    ...(given_mm === undefined ? [] : [['stated by a person', figure(given_mm)] as const]),
    [
      'parent metal beside it',
      beside === undefined ? parentWhy : `${figure(beside.least_mm)} to ${figure(beside.greatest_mm)}`
    ],
    ...(apparent !== undefined && apparent.aboveShims > 0
      ? [['above the thickest shim', `${Math.ceil(100 * apparent.aboveShims)} % of the track: not examined`] as const]
      : [])
  ]
  return (
    <dl className="coating" aria-label="coating">
      {facts.map(([what, value]) => (
        <div key={what}>
          <dt>{what}</dt>
          <dd>{sentence(value)}</dd>
        </div>
      ))}
    </dl>
  )
}

interface SignalProps extends Pick<TrackProps, 'document' | 'standardization'> {
  readonly one: Document['indications'][number]
}

/** Its loop, the named slot's pale behind it, and the signal along the track. */
function Signal({ one, document, standardization }: SignalProps) {
  const own = one as unknown as Parameters<typeof loopFigure>[0]
  const svgs = useMemo(
    () => [loopFigure(own, standardization), profileFigure(own, document.amplitudeUnit)],
    [own, standardization, document.amplitudeUnit]
  )
  return (
    <div className="signal-figures">
      {svgs.map((svg) => (
        <Figure key={svg.length} svg={svg} />
      ))}
    </div>
  )
}
