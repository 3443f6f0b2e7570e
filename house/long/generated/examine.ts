import { isRefusal, type Result, sentence } from '@trueloop/ground/refusal'
import { type Examination, openHole } from '../../../job/examine/index.ts'
import {
  type Call,
  generate,
  type HoleOutcome,
  type Recording,
  type TrialHole,
  type TrialPart
} from '../../../job/rehearse/index.ts'
import type { Segment } from '../../../job/scan/index.ts'
import { openHoleReference, type Standardization } from '../../../job/standardize/index.ts'

/** The product's own chain over the holes of a generated trial: standardize once, then examine hole by hole. */

/** What a set-up's reference scan taught, with the scan itself: the habit needs it too. */
export interface Standardized {
  readonly part: TrialPart
  readonly reference: Recording
  readonly standardization: Standardization
}

/** A hole with its recording and what the examination says of it; `refused` where it could not be examined at all. */
export interface Examined {
  readonly hole: TrialHole
  readonly recording: Recording
  readonly examination?: Examination
  readonly refused?: string
}

const SAMPLES_AT_ONCE = 16_384

function* segmentsOf({ x, y, index }: Recording): Generator<Segment> {
  for (let first = 0; first < x.length; first += SAMPLES_AT_ONCE) {
    const to = Math.min(x.length, first + SAMPLES_AT_ONCE)
    yield {
      first,
      channels: [{ x: x.subarray(first, to), y: y.subarray(first, to) }],
      aux: { index: index.subarray(first, to) }
    }
  }
}

interface Runs<T> {
  readonly take: (segment: Segment) => Result<unknown>
  readonly close: () => Result<T>
}

export function ran<T>(run: Runs<T>, recording: Recording): Result<T> {
  for (const segment of segmentsOf(recording)) {
    const taken = run.take(segment)
    if (isRefusal(taken)) return taken
  }
  return run.close()
}

/** The set-up standardized on its own reference scan, or the sentence that says why not. */
export function standardized(part: TrialPart): Standardized | string {
  const { technique, standard, equipment } = part.setup
  const reference = generate(part.reference.scene, part.reference.seed)
  const run = openHoleReference({ technique, standard, equipment, rate_Hz: reference.rate_Hz, indexed: true })
  const closed = isRefusal(run) ? run : ran(run, reference)
  if (isRefusal(closed)) return sentence(closed)
  return { part, reference, standardization: closed.standardization }
}

/** Examines a recording as a named hole of the set-up; `moved` replaces declared numbers of the method. */
export function examined(
  { part: { setup }, standardization }: Standardized,
  { hole, recording }: Pick<Examined, 'hole' | 'recording'>,
  moved?: Readonly<Record<string, Readonly<Record<string, number>>>>
): Examined {
  const run = openHole({
    technique: setup.technique,
    standardization,
    standardizationName: setup.id,
    hole: { ...setup.hole, id: hole.id },
    equipment: setup.equipment,
    rate_Hz: recording.rate_Hz,
    indexed: true,
    recording: hole.id,
    ...(moved === undefined ? {} : { moved })
  })
  const closed = isRefusal(run) ? run : ran(run, recording)
  if (isRefusal(closed)) return { hole, recording, refused: sentence(closed) }
  return { hole, recording, examination: closed.examination }
}

/** Every hole of the part: generated, examined, let go. */
export function* examinedHoles(under: Standardized): Generator<Examined> {
  for (const hole of under.part.holes) yield examined(under, { hole, recording: generate(hole.scene, hole.seed) })
}

const verdicts: Readonly<Record<string, Call['verdict']>> = {
  relevant: 'relevant',
  undecided: 'undecided',
  'damage, not a crack': 'damage'
}

export type Indicated = Examination['indications'][number]

/** What an examination says in the terms of the score, each call with its indication. An unknown place is at no flaw. */
export const callsOf = ({ indications }: Examination): readonly (Call & { readonly indication: Indicated })[] =>
  indications.flatMap((indication) => {
    const verdict = verdicts[indication.class]
    return verdict === undefined ? [] : [{ verdict, ...spotOf(indication), size: { kind: 'withheld' }, indication }]
  })

export const spotOf = ({ angle_rad, z_m }: Indicated): Pick<Call, 'angle_deg' | 'z_mm'> => ({
  angle_deg: angle_rad === 'unknown' ? Number.NaN : (180 * angle_rad) / Math.PI,
  z_mm: z_m === 'unknown' ? Number.NaN : 1000 * z_m
})

/** A hole in the terms of the score; sizes are looked at elsewhere. */
export const outcomeOf = ({ hole, examination }: Examined): HoleOutcome => ({
  hole: hole.id,
  truth: hole.truth,
  calls: examination === undefined ? [] : callsOf(examination),
  notExamined: isExamined(examination) ? [] : ['other']
})

/** As the score counts: a hole with any examined zone was examined. */
export const isExamined = (examination: Examination | undefined): boolean =>
  examination?.zones.some(({ state }) => state === 'examined') ?? false

/** Why a hole, or a zone of it, counts as not examined; empty where all of it was. */
export function notExaminedWhy({ examination, refused }: Examined): readonly string[] {
  if (refused !== undefined || examination === undefined) return [refused ?? 'no examination']
  const zones = examination.zones.filter(({ state }) => state !== 'examined')
  if (zones.length === 0) return []
  const reasons = examination.refusals.map(sentence)
  return reasons.length > 0 ? reasons : [...new Set(zones.flatMap(({ why }) => why))]
}
