import type { Examination, Indication } from '../../examine/index.ts'
import { type Block, type Fact, heading, list, paragraph } from '../blocks.ts'
import { alongFigure } from '../figures/along.ts'
import { boreFigure } from '../figures/bore.ts'
import { clock } from '../figures/frame.ts'
import { loopFigure } from '../figures/loop.ts'
import { profileFigure } from '../figures/profile.ts'
import { examinationOf, placeWord } from '../lookups.ts'
import { amplitude, count, decibels, deg, ended, mm, mmOrUnknown, sentenceCase } from '../print.ts'
import type { ReportInput, Section } from '../report-input.ts'
import type { ExaminationState, PlaceState } from '../state.ts'
import { sizeFacts, sizeWhy } from './size.ts'

/** Every indication with its drawings, what spoke for and against, what may be said of its size, and the proposal. */
export const findingsSection: Section = {
  title: 'Findings',
  blocks: (input) => {
    const found = input.state.places.flatMap((place) => ofPlace(input, place))
    return found.length === 0 ? [paragraph('No indication was kept in any examined zone.')] : found
  }
}

const ofPlace = (input: ReportInput, place: PlaceState): readonly Block[] =>
  place.examinations.flatMap((one) => {
    const examination = examinationOf(input, one)
    if (examination === undefined || examination.indications.length === 0) return []
    return [
      heading(3, sentenceCase(placeWord(place))),
      ...standing(one),
      ...confirming(input, one),
      ...bore(examination, place),
      ...examination.indications.flatMap((indication) => ofIndication(input, examination, indication))
    ]
  })

function standing({ standing: how, file }: ExaminationState): readonly Block[] {
  if (how.standing === 'voided') {
    const text = `${file}: ${how.why}. Its indications stay open; the place has to be scanned again.`
    return [{ block: 'caution', tone: 'stop', title: 'Voided by a recheck', text }]
  }
  if (how.standing !== 'provisional') return []
  return [{ block: 'caution', tone: 'warning', title: 'Provisional', text: `${file}: ${how.why}.` }]
}

/** What a scan that confirms was for, and how it was taken; angles of a reversed one count the other way. */
function confirming({ state }: ReportInput, { recording, file, after, setUp }: ExaminationState): readonly Block[] {
  if (after === undefined) return []
  const confirms = state.recordings.find(({ sha256 }) => sha256 === recording)?.confirms
  const earlier = state.recordings.find(
    ({ sha256 }) => confirms !== undefined && 'recording' in confirms && sha256 === confirms.recording
  )
  const what = confirms !== undefined && 'indication' in confirms ? confirms.indication : (earlier?.file ?? 'unknown')
  const turned = setUp === 'other sense' ? ' Its angles count against the sense of the technique.' : ''
  return [paragraph(`${file}: ${after}; it is to confirm ${what}.${turned}`)]
}

function bore(examination: Examination, { place }: PlaceState): readonly Block[] {
  if (examination.application !== 'fastener hole') return []
  const svg = boreFigure(examination, place)
  if (svg === undefined) return [paragraph('The wall is not drawn: its picture or its depth is not known.')]
  const alt = `Wall of hole ${place.name} unrolled; ${count(examination.indications.length, 'indication')} outlined.`
  const caption = `Unrolled bore of hole ${place.name}`
  return [{ block: 'figure', svg, alt, caption, width: 'whole' }]
}

const ofIndication = (input: ReportInput, examination: Examination, one: Indication): readonly Block[] => [
  heading(3, `Indication ${one.id}: ${one.class}`),
  { block: 'facts', facts: factsOf(examination, one) },
  ...sizeWhy(one.size),
  ...figures(input, examination, one),
  list(one.evidence.map(({ sentence, speaks }) => `${ended(sentence)} ${spoken(speaks, one)}`)),
  paragraph(`Proposal: ${ended(one.proposal)} A named person decides.`)
]

/** For or against what: the cause that fits best, whatever the class. */
function spoken(speaks: Indication['evidence'][number]['speaks'], { cause = 'crack' }: Indication): string {
  if (speaks === 'neither') return 'Speaks neither way.'
  return speaks === 'for' ? `Speaks for: ${cause}.` : `Speaks against: ${cause}.`
}

function factsOf(examination: Examination, one: Indication): readonly Fact[] {
  const level = one.crossedAlarm ? 'above the alarm level' : 'below the alarm level'
  const noise = one.signalToNoise > 0 ? one.signalToNoise.toFixed(1) : 'unknown'
  return [
    ...(one.cause === undefined ? [] : [{ label: 'Cause', value: one.cause }]),
    { label: 'Zone', value: one.zone },
    ...placeFacts(examination, one),
    { label: 'Amplitude', value: amplitudeText(one, examination), known: level },
    { label: 'Phase angle', value: `${deg(one.phase_rad)} modulo 180°`, ...lobesFact(examination, one) },
    { label: 'Signal-to-noise', value: noise },
    ...sizeFacts(one.size)
  ]
}

const amplitudeText = ({ amplitude: value }: Indication, { amplitudeUnit: unit }: Examination): string =>
  unit === 'notch' ? `${amplitude(value, unit)}, ${decibels(value)} to the named notch` : amplitude(value, unit)

/** Where it lies, as far as that is known: round and down a hole, along a track, or nowhere. */
function placeFacts({ application, position }: Examination, one: Indication): readonly Fact[] {
  const known = `${position.axial}${uncertainty(position.axialUncertainty_m)}`
  if (application === 'loop') return [{ label: 'Place', value: 'position unknown' }]
  if (application === 'weld') return [{ label: 'Axial position', value: depthText(one), known }]
  return [
    { label: 'Angle', value: angleText(one, position.angle) },
    { label: 'Depth', value: depthText(one), known },
    { label: 'Revolutions', value: `${one.revolutions}` }
  ]
}

const lobesFact = ({ application }: Examination, { lobeOrder }: Indication): Pick<Fact, 'known'> =>
  application === 'fastener hole'
    ? { known: lobeOrder === 1 ? 'lobes in the order of the notch' : 'lobes in reversed order' }
    : {}

function angleText({ angle_rad }: Indication, basis: Examination['position']['angle']): string {
  if (angle_rad === 'unknown' || basis === 'unknown') return 'unknown'
  return basis === 'clock' ? `${clock(angle_rad)} o'clock` : `${deg(angle_rad)}, relative`
}

function depthText({ z_m, z0_m, z1_m }: Indication): string {
  if (z_m === 'unknown') return 'position unknown'
  return `${mm(z_m)}, from ${mmOrUnknown(z0_m)} to ${mmOrUnknown(z1_m)}`
}

const uncertainty = (length_m: number | 'unknown'): string => (length_m === 'unknown' ? '' : `, ±\u00a0${mm(length_m)}`)

function figures(input: ReportInput, examination: Examination, one: Indication): readonly Block[] {
  const notch = input.standardizations.find(({ hash }) => hash === examination.standardization)?.document
  const along = alongFigure(one, examination)
  const loop: Block = {
    block: 'figure',
    svg: loopFigure(one, notch),
    alt: `Loop of indication ${one.id} at ${deg(one.phase_rad)} from the lift-off line, amplitude ${amplitude(one.amplitude, examination.amplitudeUnit)}.`,
    caption: `Loop of ${one.id}${notch === undefined ? '' : ' and of the named notch'}`,
    width: 'half'
  }
  const profile: Block = {
    block: 'figure',
    svg: profileFigure(one, examination.amplitudeUnit),
    alt: `Both parts of the signal of indication ${one.id} along the ruler at the place of its peak.`,
    caption: `Profile of ${one.id} at its depth`,
    width: 'half'
  }
  const rest: readonly Block[] =
    along === undefined || examination.application === 'loop'
      ? []
      : [
          {
            block: 'figure',
            svg: along,
            alt: `Matched output of indication ${one.id} along the axis, over ${one.snippet.along.length} revolutions.`,
            caption: `Profile of ${one.id} over the depth`,
            width: 'half'
          }
        ]
  return [loop, profile, ...rest]
}
