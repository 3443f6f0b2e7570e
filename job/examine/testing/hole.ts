/** Test help: holes of the demonstration, generated, standardized and examined; everything may be changed. */
import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import type { ExamineEvent } from '../../interpret/index.ts'
import type { Equipment, Hole, HoleStandard, HoleTechnique } from '../../plan/index.ts'
import { demoRecordings, demoSheet, generate, type HoleScene } from '../../rehearse/index.ts'
import type { Segment } from '../../scan/index.ts'
import { openHoleReference, type Standardization } from '../../standardize/index.ts'
import { type Examination, openHole } from '../index.ts'

export interface Recorded {
  readonly rate_Hz: number
  readonly x: Float64Array
  readonly y: Float64Array
  readonly index?: Float64Array
  readonly position?: Float64Array
  readonly absolute?: Float64Array
}

const sheet = demoSheet()

export const technique: HoleTechnique = sheet.technique
export const standard: HoleStandard = sheet.reference_standard
export const equipment: Equipment = sheet.equipment
export const hole: Hole = sheet.holes[0]!

/** Scene of a demonstration recording: `reference-start`, `hole-P04`, … */
export function sceneOf(name: string): HoleScene {
  for (const { file, scene } of demoRecordings(1)) if (file === `${name}.wav`) return scene
  throw new Error(`no such recording: ${name}`)
}

/** Segments of these lengths, over and over; the last one is what is left. */
export function* segmentsOf(recorded: Recorded, lengths: readonly number[] = [8192]): Generator<Segment> {
  const { x, y, index, position, absolute } = recorded
  for (let first = 0, k = 0; first < x.length; k++) {
    const to = Math.min(x.length, first + lengths[k % lengths.length]!)
    const aux = {
      ...(index === undefined ? {} : { index: index.slice(first, to) }),
      ...(position === undefined ? {} : { position: position.slice(first, to) }),
      ...(absolute === undefined ? {} : { absolute: absolute.slice(first, to) })
    }
    yield { first, channels: [{ x: x.slice(first, to), y: y.slice(first, to) }], aux }
    first = to
  }
}

export interface ReferenceChange {
  readonly technique?: Partial<HoleTechnique>
  readonly standard?: Partial<HoleStandard>
  readonly equipment?: Partial<Equipment>
}

/** What the reference scan teaches; a refusal is a failure of the test. */
export function standardizationFrom(recorded: Recorded, change: ReferenceChange = {}): Standardization {
  const run = sound(
    openHoleReference({
      technique: { ...technique, ...change.technique },
      standard: { ...standard, ...change.standard },
      equipment: { ...equipment, ...change.equipment },
      rate_Hz: recorded.rate_Hz,
      indexed: recorded.index !== undefined
    })
  )
  for (const segment of segmentsOf(recorded)) sound(run.take(segment))
  return sound(run.close()).standardization
}

export interface HoleChange {
  readonly technique?: Partial<HoleTechnique>
  readonly hole?: Partial<Hole>
  readonly equipment?: Partial<Equipment>
  readonly standardization?: Standardization
  readonly standardTolerance_mm?: number
}

export interface Examined {
  readonly events: readonly ExamineEvent[]
  readonly examination: Examination
}

/** Examines a hole as recorded, or as segments with what is known of them. */
export function examinedFrom(
  segments: Iterable<Segment>,
  of: { readonly rate_Hz: number; readonly indexed: boolean },
  change: HoleChange = {}
): Result<Examined> {
  const run = sound(
    openHole({
      technique: { ...technique, ...change.technique },
      standardization: change.standardization ?? demoStandardization(),
      standardizationName: 'standardization',
      hole: { ...hole, ...change.hole },
      equipment: { ...equipment, ...change.equipment },
      rate_Hz: of.rate_Hz,
      indexed: of.indexed,
      recording: 'recording',
      ...(change.standardTolerance_mm === undefined ? {} : { standardTolerance_mm: change.standardTolerance_mm })
    })
  )
  const events: ExamineEvent[] = []
  for (const segment of segments) {
    const taken = run.take(segment)
    if (isRefusal(taken)) return taken
    events.push(...taken)
  }
  const closed = run.close()
  return isRefusal(closed) ? closed : { events: [...events, ...closed.events], examination: closed.examination }
}

/** How many samples had come in when each candidate was opened, fed `step` samples at a time. */
export function openedAt(
  recorded: Recorded,
  step: number
): readonly { readonly ruler: number; readonly samples: number }[] {
  const opened: { ruler: number; samples: number }[] = []
  let samples = 0
  const run = sound(
    openHole({
      technique,
      standardization: demoStandardization(),
      standardizationName: 'standardization',
      hole,
      equipment,
      rate_Hz: recorded.rate_Hz,
      indexed: true,
      recording: 'recording'
    })
  )
  for (const segment of segmentsOf(recorded, [step])) {
    samples += step
    for (const event of sound(run.take(segment)))
      if (event.kind === 'opened') opened.push({ ruler: event.ruler, samples })
  }
  return opened
}

/** The same, cut as asked; a refusal is a failure of the test. */
export const examine = (recorded: Recorded, change: HoleChange = {}, lengths?: readonly number[]): Examined =>
  sound(
    examinedFrom(
      segmentsOf(recorded, lengths),
      { rate_Hz: recorded.rate_Hz, indexed: recorded.index !== undefined },
      change
    )
  )

let kept: Standardization | undefined

/** Standardization from the demonstration's reference scan, made once. */
export function demoStandardization(): Standardization {
  kept ??= standardizationFrom(generate(sceneOf('reference-start'), 1))
  return kept
}

export function sound<T>(result: Result<T>): T {
  if (isRefusal(result)) throw new Error(sentenceOf(result))
  return result as T
}

export const sentenceOf = ({ code, found }: Refusal): string => `${code}: ${found}`

export const DEG = Math.PI / 180

/** Codes of an examination's refusals, once each. */
export const codesOf = ({ refusals }: Examination): readonly string[] => [...new Set(refusals.map(({ code }) => code))]
