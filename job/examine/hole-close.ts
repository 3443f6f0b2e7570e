import type { Refusal } from '@trueloop/ground/refusal'
import {
  type Candidate,
  type Detection,
  type ExamineEvent,
  type Interpretation,
  interpret,
  type Judgement,
  type Sheet
} from '../interpret/index.ts'
import { bellWidth, revolutionsOver } from '../plan/index.ts'
import type { Dropped, Turning } from '../signal/index.ts'
import type { Examination } from './examination.ts'
import { cellAt, entriesOf } from './hole-entries.ts'
import { coverageFacts, notesOf, positionOf, unscreened } from './hole-facts.ts'
import { type Fit, fitNotes } from './hole-fit.ts'
import { indicationOf } from './hole-indication.ts'
import type { HoleExamination, Located } from './hole-input.ts'
import { layersOf, locate, wallStretch } from './hole-locate.ts'
import type { Look } from './hole-look.ts'
import { hiddenIn, type Margin } from './hole-margin.ts'
import { clipped, oversizeHidesFlaw, tooMany, tooNoisy } from './hole-refusals.ts'
import type { HoleStream } from './hole-stream.ts'
import { zoneResults } from './hole-zones.ts'
import { pictureOf } from './picture.ts'
import { checkHole, checkMetals, checkSetup, speedOutside } from './setup.ts'
import { type Zone, zonesOf } from './zones.ts'

/** Number of the method; changes whenever a finding changes. */
export const HOLE_METHOD = 2

export interface Gathered {
  readonly stream: HoleStream
  readonly turning: Turning
  readonly drops: readonly Dropped[]
  readonly look: Look
  readonly fit: Fit
  readonly numbers: Detection
}

export interface ClosedHole {
  readonly events: readonly ExamineEvent[]
  readonly examination: Examination
  /** what was judged; it holds only until the stream is released */
  readonly sheet: Sheet
}

/** The final judgement on one pass: place, proof of contact, noise, indications, zones. */
export function closeHole(input: HoleExamination, gathered: Gathered): ClosedHole {
  const { stream, look, fit } = gathered
  const { standardization } = input
  const settled = stream.screening.tracker.close()
  const setup = checkSetup(standardization, input.equipment)
  const located = locate(input, stream)
  const { place, contact } = located
  const sheet = stream.sheet.build()
  const judged = interpretAll(input, gathered, { sheet, candidates: settled.candidates, place })
  const { judgement } = judged
  const refused = [
    ...setup.refused,
    ...checkHole(standardization, input.technique, input.hole),
    ...fit.refused,
    ...wholeRefusals(input, gathered, judgement),
    ...located.refused
  ]
  const withheld = [...setup.unknown, ...refused.filter(voidsSize)].map((one) => one.found)
  const zones = zonesOf(input.hole, input.technique.lobe_spacing_mm * 1e-3)
  const entering = {
    ...{ sheet, place, layers: layersOf(input.hole).length, spacing: look.spacing },
    ...alongRevolutions(input, look, place)
  }
  const indications = entriesOf(judged.kept, entering).map((entry, i) =>
    indicationOf(entry, { input, sheet, place, zones, noise: judged.single, withheld, fit, number: i + 1 })
  )
  const margin = { technique: input.technique, standardization, left: fit.share.least, judgement }
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
    zones: zoneResults(input, { zones, place, refused, stream, noise: judgement.along, margin }),
    coverage: coverageFacts(gathered, { place, contact }),
    dropped: [...gathered.drops, ...unscreened(stream)],
    noise: {
      matched: judgement.hole,
      threshold: judgement.threshold,
      alarm: look.alarm.share,
      points: judgement.points,
      falseCalls: judgement.falseCalls
    },
    ...(fit.told === undefined ? {} : { oversize: fit.told }),
    indications,
    refusals: [...refused, ...checkMetals(standardization, input.hole), ...hidden(zones, margin), ...setup.unknown],
    notes: [...notesOf(gathered), ...fitNotes(fit)],
    picture: pictureOf(sheet, look.direction)
  }
  return { events, examination, sheet }
}

/** Zones in which the flaw sought would not be found, together: the first one's figures stand for all of its kind. */
function hidden(zones: readonly Zone[], margin: Margin): readonly Refusal[] {
  const each = zones.flatMap((zone) => {
    const why = hiddenIn(zone, margin)
    return why === undefined ? [] : [{ name: zone.name, why }]
  })
  const kinds = [...new Set(each.map(({ why }) => why))]
  return kinds.map((why) =>
    oversizeHidesFlaw(
      each.flatMap((one) => (one.why === why ? [one.name] : [])),
      why
    )
  )
}

/** What leaves the scale of the signal alone: a size stands although the hole as a whole was not examined. */
const SCALE_STANDS = ['examine/too-noisy', 'examine/too-many-candidates', 'examine/pitch-too-large']

const voidsSize = ({ code }: Refusal): boolean => !SCALE_STANDS.includes(code)

function wholeRefusals(
  input: HoleExamination,
  { stream, turning, look }: Gathered,
  judgement: Judgement
): readonly Refusal[] {
  const { share: alarm } = look.alarm
  const tooLoud = judgement.tooNoisy || judgement.level * judgement.hole > alarm
  const speed = speedOutside(input.standardization, input.equipment.filters, turning.speed)
  return [
    ...(speed === undefined ? [] : [speed]),
    ...(turning.clipped > 0 ? [clipped(turning.clipped)] : []),
    ...(tooLoud ? [tooNoisy({ ...judgement, threshold: alarm })] : []),
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
  const { technique, standardization, hole } = input
  const { form } = standardization
  const footprint = bellWidth(technique.lobe_spacing_mm)
  const passes = revolutionsOver(technique.target_flaw_mm.length, footprint, nominalPitch(technique))
  const layers = layersOf(hole)
  const scale = place?.along.scale
  const depth = scale === undefined ? undefined : (point: number) => scale.at(point)
  const share = place === undefined ? 1 : quietShare(place, look.perWidth)
  const judged = interpret({
    sheet,
    joined: { x: stream.screening.jx, y: stream.screening.jy },
    wall: wallOf(sheet, look, place),
    candidates,
    notchPhases: look.notchPhases,
    namedPhase: look.namedPhase,
    // not as lowered for an oversize hole: another ceiling would move the looks, and take away what they find
    alarm: technique.alarm.share,
    swing: look.alarm.swing,
    answer: look.answer,
    spacing: look.spacing,
    layerOf: place === undefined ? () => 0 : cellAt(place, layers.length),
    twin: alongRevolutions(input, look, place).twin,
    numbers: { ...numbers, falseCallsPerHole: numbers.falseCallsPerHole * share },
    reach: look.reach,
    reference: look.noise.joined,
    single: look.noise.single,
    context: { form, expectedRows: Math.max(1, Math.round(passes)), half: form.half, depth, layers },
    mayClass: technique.may_class_by_phase_and_shape,
    moved: input.moved
  })
  const { judgement } = judged
  return { ...judged, judgement: { ...judgement, falseCalls: judgement.falseCalls / share } }
}

const nominalPitch = ({ pitch_mm, max_pitch_mm }: HoleExamination['technique']): number => pitch_mm ?? max_pitch_mm

/**
 * Noise is taken in the longest pass away from its faces; chance has all passes up to their faces: by so much of the stated
 * rate that stretch may bring up calls.
 */
function quietShare({ along }: Located, perWidth: number): number {
  const turns = along.passes.reduce((sum, { from, to }) => sum + to - from, 0)
  const { from, to } = wallStretch(along, perWidth)
  return to > from && turns > 0 ? (to - from) / turns : 1
}

/** Widths along the axis in revolutions of this pass; by its nominal pitch where no other is known. */
function alongRevolutions({ technique }: HoleExamination, { twin_m }: Look, place: Located | undefined) {
  const pitch_m = place?.along.pitch_m ?? 1e-3 * nominalPitch(technique)
  const perWidth = (1e-3 * bellWidth(technique.lobe_spacing_mm)) / pitch_m
  return { perWidth, twin: twin_m === undefined ? undefined : twin_m / pitch_m }
}

/** Elements on the wall, half a width of the field away from its faces; none where those are not known. */
function wallOf({ first, step, length }: Sheet, { perWidth }: Look, place: Located | undefined) {
  if (place === undefined) return { from: 0, to: 0 }
  const wall = wallStretch(place.along, perWidth)
  const from = Math.max(0, Math.ceil((wall.from - first) / step))
  return { from, to: Math.max(from, Math.min(length, Math.floor((wall.to - first) / step))) }
}
