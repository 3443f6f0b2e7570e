import { atan2, histogramTotal, type MagnitudeHistogram, magnitudeQuantile, PI } from '@trueloop/ground/numerics'
import { isRefusal, type Refusal } from '@trueloop/ground/refusal'
import {
  type Candidate,
  type ExamineEvent,
  type Interpretation,
  type Interpreted,
  interpret,
  selfAnswer,
  type Threshold,
  thresholdOf
} from '../interpret/index.ts'
import { type Hole, revolutionsOver } from '../plan/index.ts'
import { bandedPulse, bellWidth, type Dropped, type Turning, UNIT } from '../signal/index.ts'
import { bandOf, findEdges, fittedShape, matchedWeights, shapeOf, spacingOf } from '../standardize/index.ts'
import { type Contact, proveContact } from './contact.ts'
import { depthOf } from './depth.ts'
import type { Examination } from './examination.ts'
import type { Alarm } from './hole-alarm.ts'
import { coverageFacts, notesOf, positionOf, unscreened } from './hole-facts.ts'
import { indicationOf } from './hole-indication.ts'
import type { HoleExamination, Located } from './hole-input.ts'
import { clipped, noContact, pitchTooLarge, tooLong, tooMany, tooNoisy } from './hole-refusals.ts'
import type { HoleStream } from './hole-stream.ts'
import { zoneResults } from './hole-zones.ts'
import { checkHole, checkMetals, checkSetup, speedOutside } from './setup.ts'
import { zonesOf } from './zones.ts'

/** Number of the method; changes whenever a finding changes. */
export const HOLE_METHOD = 1

export interface Gathered {
  readonly stream: HoleStream
  readonly turning: Turning
  readonly drops: readonly Dropped[]
  readonly alarm: Alarm
}

const MEDIAN_TO_DEVIATION = 1.482602218505602

/** The final judgement on one pass: place, proof of contact, noise, indications, zones. */
export function closeHole(
  input: HoleExamination,
  gathered: Gathered
): { readonly events: readonly ExamineEvent[]; readonly examination: Examination } {
  const { stream, alarm } = gathered
  const { standardization } = input
  const settled = stream.tracker.close()
  const setup = checkSetup(standardization, input.equipment)
  const located = locate(input, gathered)
  const noise = deviationOf(stream.matchedNoise)
  const threshold = thresholdOf(standardization.noise.matched, noise, alarm.matched)
  const refused = [
    ...setup.refused,
    ...checkHole(standardization, input.technique, input.hole),
    ...wholeRefusals(input, gathered, threshold),
    ...located.refused
  ]
  const judged = interpretAll(input, { candidates: settled.candidates, threshold, alarm })
  const withheld = [...setup.unknown, ...refused.filter(voidsSize)].map((one) => one.found)
  const { place, contact } = located
  const zones = zonesOf(input.hole, input.technique.lobe_spacing_mm * 1e-3)
  const isInHole = ({ candidate }: Interpreted) => place === undefined || touchesHole(candidate, place, input.hole)
  const indications = judged.kept
    .filter(isInHole)
    .map((one, i) => indicationOf(one, { input, place, zones, threshold, withheld, number: i + 1 }))
  const inAir = judged.kept
    .filter((one) => !isInHole(one))
    .map(({ candidate }) => ({ id: candidate.id, reason: IN_AIR }))
  const withdrawn = [...judged.withdrawn, ...inAir].map((one) => ({ kind: 'withdrawn' as const, ...one }))
  const events = [...settled.events, ...withdrawn]
  const examination: Examination = {
    kind: 'examination',
    version: 1,
    method: HOLE_METHOD,
    application: 'fastener hole',
    subject: input.hole.id,
    amplitudeUnit: 'notch',
    recording: input.recording,
    standardization: input.standardizationName,
    position: positionOf(gathered, place),
    zones: zoneResults(input, { zones, place, refused, stream, noise: threshold.noise }),
    coverage: coverageFacts(gathered, { place, contact }),
    dropped: [...gathered.drops, ...unscreened(stream)],
    noise: {
      matched: noise,
      threshold: threshold.value,
      alarm: alarm.matched,
      points: histogramTotal(stream.matchedNoise)
    },
    indications,
    refusals: [...refused, ...checkMetals(standardization, input.hole), ...setup.unknown],
    notes: notesOf(gathered),
    picture: stream.picture.build()
  }
  return { events, examination }
}

/** What leaves the scale of the signal alone: a size stands although the hole as a whole was not examined. */
const SCALE_STANDS = ['examine/too-noisy', 'examine/too-many-candidates', 'examine/pitch-too-large']

const voidsSize = ({ code }: Refusal): boolean => !SCALE_STANDS.includes(code)

interface Found {
  readonly place: Located | undefined
  readonly contact: Contact | undefined
  readonly refused: readonly Refusal[]
}

/** Where the hole lies in the recording, and whether the probe was in it. */
function locate(input: HoleExamination, { stream }: Gathered): Found {
  if (stream.trace.overflow) return nowhere(tooLong())
  const edges = findEdges(stream.trace.build())
  if (isRefusal(edges)) return nowhere(noContact(edges))
  const { technique, hole, standardization } = input
  const contact = proveContact(edges, standardization, { motion: stream.wall, channels: stream.channels })
  if (contact.inAir) return { place: undefined, contact, refused: contact.refused }
  const depth = depthOf(edges, { technique, hole, encoder: stream.encoder })
  if (isRefusal(depth)) return { place: undefined, contact, refused: [...contact.refused, depth] }
  const pitch = pitchTooLarge(depth.pitch_m, technique.max_pitch_mm * 1e-3)
  return { place: { edges, depth, contact }, contact, refused: [...contact.refused, ...pitch] }
}

const nowhere = (refusal: Refusal): Found => ({ place: undefined, contact: undefined, refused: [refusal] })

function deviationOf(histogram: MagnitudeHistogram): number {
  const median = magnitudeQuantile(histogram, 0.5)
  return isRefusal(median) ? 0 : MEDIAN_TO_DEVIATION * median
}

function wholeRefusals(
  input: HoleExamination,
  { stream, turning }: Gathered,
  threshold: Threshold
): readonly Refusal[] {
  const speed = speedOutside(input.standardization, input.equipment.filters, turning.speed)
  return [
    ...(speed === undefined ? [] : [speed]),
    ...(turning.clipped > 0 ? [clipped(turning.clipped)] : []),
    ...(threshold.tooNoisy ? [tooNoisy(threshold)] : []),
    ...(stream.tracker.overflow ? [tooMany()] : [])
  ]
}

interface Judging {
  readonly candidates: readonly Candidate[]
  readonly threshold: Threshold
  readonly alarm: Alarm
}

function interpretAll(input: HoleExamination, { candidates, threshold, alarm }: Judging): Interpretation {
  const { technique, standardization, hole } = input
  const { form } = standardization
  const weights = matchedWeights(form)
  const shape = shapeOf(form)
  const band = bandOf(technique, hole.diameter_mm)
  const footprint = bellWidth(technique.lobe_spacing_mm)
  const pitch = technique.pitch_mm ?? technique.max_pitch_mm
  const passes = revolutionsOver(technique.target_flaw_mm.length, footprint, pitch)
  return interpret({
    candidates,
    threshold,
    alarm,
    sideLobes: {
      answer: selfAnswer(weights, bandedPulse(band, spacingOf(technique, hole.diameter_mm))),
      unit: UNIT,
      noise: threshold.noise
    },
    fit: ({ x, y }) => fittedShape({ x, y }, shape, [form.half]),
    notchPhases: standardization.notches.map(({ fitted }) => linePhase(fitted)),
    expectedRows: Math.max(1, Math.round(passes)),
    mayClass: technique.may_class_by_phase_and_shape
  })
}

function linePhase({ x, y }: { readonly x: number; readonly y: number }): number {
  const angle = atan2(y, x)
  return angle < 0 ? angle + PI : angle
}

const IN_AIR = 'before or beyond the hole: the probe in air'

/** Candidates far outside the hole are the probe in air, not the wall: they belong to no zone. */
function touchesHole(candidate: Candidate, { depth }: Located, { grip_mm }: Hole): boolean {
  const z = depth.at(candidate.peak)
  const beyond = 2 * depth.pitch_m + 0.5e-3
  return z > -beyond && z < grip_mm * 1e-3 + beyond
}
