import { isRefusal, type Refusal } from '@trueloop/ground/refusal'
import {
  type Candidate,
  type Detection,
  type ExamineEvent,
  type Interpretation,
  type Interpreted,
  interpret,
  type Judgement,
  type Sheet
} from '../interpret/index.ts'
import { type Hole, revolutionsOver } from '../plan/index.ts'
import { bellWidth, type Dropped, type Turning, UNIT } from '../signal/index.ts'
import { findEdges } from '../standardize/index.ts'
import { type Contact, proveContact } from './contact.ts'
import { depthOf } from './depth.ts'
import type { Examination } from './examination.ts'
import { coverageFacts, notesOf, positionOf, unscreened } from './hole-facts.ts'
import { indicationOf } from './hole-indication.ts'
import type { HoleExamination, Located } from './hole-input.ts'
import type { Look } from './hole-look.ts'
import { clipped, noContact, pitchTooLarge, tooLong, tooMany, tooNoisy } from './hole-refusals.ts'
import type { HoleStream } from './hole-stream.ts'
import { zoneResults } from './hole-zones.ts'
import { pictureOf } from './picture.ts'
import { checkHole, checkMetals, checkSetup, speedOutside } from './setup.ts'
import { zonesOf } from './zones.ts'

/** Number of the method; changes whenever a finding changes. */
export const HOLE_METHOD = 2

export interface Gathered {
  readonly stream: HoleStream
  readonly turning: Turning
  readonly drops: readonly Dropped[]
  readonly look: Look
  readonly numbers: Detection
}

/** The final judgement on one pass: place, proof of contact, noise, indications, zones. */
export function closeHole(
  input: HoleExamination,
  gathered: Gathered
): { readonly events: readonly ExamineEvent[]; readonly examination: Examination } {
  const { stream, look } = gathered
  const { standardization } = input
  const settled = stream.screening.tracker.close()
  const setup = checkSetup(standardization, input.equipment)
  const located = locate(input, gathered)
  const { place, contact } = located
  const sheet = stream.sheet.build()
  const judged = interpretAll(input, gathered, { sheet, candidates: settled.candidates, place })
  const { judgement } = judged
  const refused = [
    ...setup.refused,
    ...checkHole(standardization, input.technique, input.hole),
    ...wholeRefusals(input, gathered, judgement),
    ...located.refused
  ]
  const withheld = [...setup.unknown, ...refused.filter(voidsSize)].map((one) => one.found)
  const zones = zonesOf(input.hole, input.technique.lobe_spacing_mm * 1e-3)
  const isInHole = (one: Interpreted) => place === undefined || touchesHole(one, place, input.hole)
  const indications = judged.kept
    .filter(isInHole)
    .map((one, i) => indicationOf(one, { input, sheet, place, zones, noise: judged.single, withheld, number: i + 1 }))
  const withdrawn = judged.withdrawn.map((one) => ({ kind: 'withdrawn' as const, ...one }))
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
    zones: zoneResults(input, { zones, place, refused, stream, noise: judgement.along }),
    coverage: coverageFacts(gathered, { place, contact }),
    dropped: [...gathered.drops, ...unscreened(stream)],
    noise: {
      matched: judgement.hole,
      threshold: judgement.threshold,
      alarm: look.alarm.share,
      points: judgement.points,
      falseCalls: judgement.falseCalls
    },
    indications,
    refusals: [...refused, ...checkMetals(standardization, input.hole), ...setup.unknown],
    notes: notesOf(gathered),
    picture: pictureOf(sheet, look.direction)
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

function wholeRefusals(
  input: HoleExamination,
  { stream, turning }: Gathered,
  judgement: Judgement
): readonly Refusal[] {
  const speed = speedOutside(input.standardization, input.equipment.filters, turning.speed)
  return [
    ...(speed === undefined ? [] : [speed]),
    ...(turning.clipped > 0 ? [clipped(turning.clipped)] : []),
    ...(judgement.tooNoisy ? [tooNoisy(judgement)] : []),
    ...(stream.screening.tracker.overflow ? [tooMany()] : [])
  ]
}

interface Judging {
  readonly sheet: Sheet
  readonly candidates: readonly Candidate[]
  readonly place: Located | undefined
}

function interpretAll(
  input: HoleExamination,
  { stream, look, numbers }: Gathered,
  { sheet, candidates, place }: Judging
): Interpretation {
  const { technique, standardization } = input
  const { form } = standardization
  const footprint = bellWidth(technique.lobe_spacing_mm)
  const pitch = technique.pitch_mm ?? technique.max_pitch_mm
  const passes = revolutionsOver(technique.target_flaw_mm.length, footprint, pitch)
  const layers = layersOf(input.hole)
  const depth = place === undefined ? undefined : (point: number) => place.depth.at(point)
  return interpret({
    sheet,
    joined: { x: stream.screening.jx, y: stream.screening.jy },
    wall: wallOf(sheet, look, place),
    candidates,
    reference: look.noise.joined,
    notchPhases: look.notchPhases,
    namedPhase: look.namedPhase,
    alarm: look.alarm.share,
    swing: look.alarm.swing,
    answer: look.answer,
    spacing: look.spacing,
    layerOf: depth === undefined ? () => 0 : (point) => layerAt(layers, depth(point)),
    numbers,
    reach: look.reach,
    single: look.noise.single,
    context: { form, expectedRows: Math.max(1, Math.round(passes)), half: form.half, depth, layers },
    mayClass: technique.may_class_by_phase_and_shape,
    moved: input.moved
  })
}

/** Elements on the wall, half a width of the field away from its faces; none where those are not known. */
function wallOf({ first, step, length }: Sheet, { perWidth }: Look, place: Located | undefined) {
  if (place === undefined) return { from: 0, to: 0 }
  const away = 0.5 * perWidth * UNIT
  const from = Math.max(0, Math.ceil((place.edges.entry + away - first) / step))
  return { from, to: Math.max(from, Math.min(length, Math.floor((place.edges.exit - away - first) / step))) }
}

interface Layer {
  readonly z0_m: number
  readonly z1_m: number
}

function layersOf({ interfaces_mm, grip_mm }: Hole): readonly Layer[] {
  const bounds = [0, ...interfaces_mm, grip_mm].map((z) => z * 1e-3)
  return bounds.slice(1).map((z1_m, i) => ({ z0_m: bounds[i]!, z1_m }))
}

function layerAt(layers: readonly Layer[], z_m: number): number {
  const at = layers.findIndex(({ z1_m }) => z_m < z1_m)
  return at < 0 ? layers.length - 1 : at
}

/** What lies far outside the hole is the probe in air, not the wall: it belongs to no zone. */
function touchesHole({ at }: Interpreted, { depth }: Located, { grip_mm }: Hole): boolean {
  const z = depth.at(at)
  const beyond = 2 * depth.pitch_m + 0.5e-3
  return z > -beyond && z < grip_mm * 1e-3 + beyond
}
