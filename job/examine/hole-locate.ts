import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import type { Hole, HoleTechnique } from '../plan/index.ts'
import { UNIT } from '../signal/index.ts'
import { findEdges, type MeanTrace } from '../standardize/index.ts'
import { byScale, type Layer, type Stretch } from './along.ts'
import { byStrokes } from './along-strokes.ts'
import { type Contact, type PassName, proveContact } from './contact.ts'
import { depthOf } from './depth.ts'
import type { HoleExamination, Located } from './hole-input.ts'
import { noContact, noHandFeed, pitchTooLarge, tooLong } from './hole-refusals.ts'
import type { HoleStream } from './hole-stream.ts'
import { type Strokes, strokesOf } from './strokes.ts'
import { WallMotion } from './wall-motion.ts'

/** Where a hole lies in its recording, and whether the probe was in it. */
export interface Found {
  readonly place: Located | undefined
  readonly contact: Contact | undefined
  readonly refused: readonly Refusal[]
}

const isByHand = ({ axial_position }: HoleTechnique): boolean => axial_position === 'hand feed, by strokes'

/** Passes through the metal, with air between, that a technique makes of one recording. */
export const passesOf = (technique: HoleTechnique): number =>
  isByHand(technique) && technique.hand_feed?.strokes === 'through and back' ? 2 : 1

export function locate(input: HoleExamination, stream: HoleStream): Found {
  if (stream.trace.overflow) return nowhere(tooLong())
  return isByHand(input.technique) ? locateByHand(input, stream) : locateByScale(input, stream)
}

const nowhere = (refusal: Refusal): Found => ({ place: undefined, contact: undefined, refused: [refusal] })

function locateByScale({ technique, hole, standardization }: HoleExamination, stream: HoleStream): Found {
  const edges = findEdges(stream.trace.build())
  if (isRefusal(edges)) return nowhere(noContact(edges))
  const contact = proveContact(edges, standardization, {
    motion: stream.walls[0]!,
    channels: stream.channels,
    left: stream.left
  })
  if (contact.inAir) return { place: undefined, contact, refused: contact.refused }
  const depth = depthOf(edges, { technique, hole, encoder: stream.encoder })
  if (isRefusal(depth)) return { place: undefined, contact, refused: [...contact.refused, depth] }
  const pitch = pitchTooLarge(depth.pitch_m, technique.max_pitch_mm * 1e-3)
  const along = byScale({ depth, faces: { from: edges.entry, to: edges.exit }, layers: layersOf(hole) })
  return { place: { along, contact }, contact, refused: [...contact.refused, ...pitch] }
}

export function layersOf({ interfaces_mm, grip_mm }: Hole): readonly Layer[] {
  const bounds = [0, ...interfaces_mm, grip_mm].map((z) => z * 1e-3)
  return bounds.slice(1).map((z1_m, i) => ({ z0_m: bounds[i]!, z1_m }))
}

/** By the strokes of the hand; contact has to be proven in each pass through the metal by itself. */
function locateByHand(input: HoleExamination, stream: HoleStream): Found {
  const { technique, hole } = input
  const hand = technique.hand_feed
  if (hand === undefined) return nowhere(noHandFeed())
  const trace = stream.trace.build()
  const strokes = strokesOf(trace, { hole, hand })
  if (isRefusal(strokes)) return nowhere(strokes)
  const contact = contactOver(partsOf(trace, strokes, hand), input, stream)
  if (isRefusal(contact)) return nowhere(noContact(contact))
  const along = byStrokes({ strokes, hand, layers: layersOf(hole) })
  return { place: { along, contact }, contact, refused: contact.refused }
}

interface Part {
  readonly trace: MeanTrace
  readonly named: PassName
}

/** The trace pass by pass, each from air to air. */
function partsOf(
  trace: MeanTrace,
  { strokes }: Strokes,
  hand: NonNullable<HoleTechnique['hand_feed']>
): readonly Part[] {
  const faces = ['entry face', 'exit face'] as const
  if (hand.strokes === 'one way') return [{ trace, named: { faces, pass: '' } }]
  if (hand.strokes === 'turned inside')
    return [{ trace, named: { faces: ['entry face, going in', 'entry face, coming out'], pass: '' } }]
  const between = 0.5 * (strokes[0]!.ties.at(-1)!.to + strokes[1]!.ties[0]!.from)
  const [going, coming] = [part(trace, 0, between), part(trace, between, Number.POSITIVE_INFINITY)]
  return [
    { trace: going, named: { faces, pass: ', in-stroke' } },
    { trace: coming, named: { faces: ['exit face', 'entry face'], pass: ', out-stroke' } }
  ]
}

function part({ at, x, y }: MeanTrace, from: number, to: number): MeanTrace {
  let [first, last] = [0, at.length]
  while (first < last && at[first]! < from) first++
  while (last > first && at[last - 1]! > to) last--
  return { at: at.subarray(first, last), x: x.subarray(first, last), y: y.subarray(first, last) }
}

function contactOver(parts: readonly Part[], input: HoleExamination, stream: HoleStream): Result<Contact> {
  const { standardization } = input
  const all: Contact[] = []
  for (const [i, { trace, named }] of parts.entries()) {
    const edges = findEdges(trace)
    if (isRefusal(edges)) return edges
    const motion = stream.walls[i] ?? new WallMotion(standardization)
    all.push(proveContact(edges, standardization, { motion, channels: stream.channels, named, left: stream.left }))
  }
  return {
    checks: onceEach(
      all.flatMap(({ checks }) => checks),
      ({ check }) => check
    ),
    refused: onceEach(
      all.flatMap(({ refused }) => refused),
      ({ found }) => found
    ),
    inAir: all.every(({ inAir }) => inAir)
  }
}

const onceEach = <T>(list: readonly T[], name: (one: T) => string): readonly T[] =>
  list.filter((one, i) => list.findIndex((other) => name(other) === name(one)) === i)

/** The longest pass, half a width of the field away from its faces: there the noise is taken. */
export function wallStretch({ passes }: Located['along'], perWidth: number): Stretch {
  const longest = passes.reduce((best, one) => (one.to - one.from > best.to - best.from ? one : best))
  const away = 0.5 * perWidth * UNIT
  return { from: longest.from + away, to: longest.to - away }
}
