import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import { type Equipment, equipmentWith, type HoleSheet, sheetFor, type WeldSheet } from '@trueloop/job/plan'
import { type Entry, type EntryOf, entryId } from '@trueloop/job/record'
import {
  compareRecheck,
  HOLE_REFERENCE_METHOD,
  openHoleReference,
  openWeldReference,
  type RecheckResult,
  type Standardization,
  type Standardized,
  WELD_REFERENCE_METHOD
} from '@trueloop/job/standardize'
import type { Archive } from '../archive/index.ts'
import { sha256 } from '../hash/index.ts'
import { placesOf } from './blocks.ts'
import { refuse } from './codes.ts'
import type { JobContext } from './context.ts'
import { nameOf } from './hash.ts'
import type { Kept } from './keep.ts'
import { feed, type Listening } from './reading.ts'
import { radiansToDegrees } from './units.ts'

/** A standardization in force, with its name. */
export interface SetUp {
  readonly name: string
  readonly standardization: Standardization
  readonly recording: string
}

type CheckedSheet = HoleSheet | WeldSheet

/** Number of the method by which reference scans of this sheet are read. */
export const referenceMethod = (sheet: CheckedSheet): number =>
  'holes' in sheet ? HOLE_REFERENCE_METHOD : WELD_REFERENCE_METHOD

/** A scan of the reference standard, and what was said of it. */
type Scanned = Pick<Kept, 'reading' | 'recording' | 'facts'>

/** Reads a scan of the reference standard: for a standardization, or for a recheck. */
export async function readReference(
  sheet: CheckedSheet,
  kept: Scanned,
  listening: Omit<Listening, 'take'>
): Promise<Result<Standardized>> {
  const run = openReference(sheet, kept, equipmentWith(sheet.equipment, kept.recording.equipment))
  if (isRefusal(run)) return run
  const scan = await feed(kept.reading, { ...listening, take: (segment) => run.take(segment) })
  if (isRefusal(scan)) return scan
  const closed = run.close()
  return isRefusal(closed) ? closed : { ...closed, notes: [...closed.notes, ...scan.warnings] }
}

function openReference(sheet: CheckedSheet, { reading, recording, facts }: Scanned, equipment: Equipment) {
  const { rate_Hz, indexed } = reading
  if ('holes' in sheet) {
    const setUp = 'set_up' in recording ? recording.set_up : undefined
    const { technique, reference_standard: standard } = sheetFor(sheet, setUp)
    return openHoleReference({ technique, standard, equipment, rate_Hz, indexed })
  }
  const { technique, reference_standard: standard } = sheet
  return openWeldReference({ technique, standard, equipment, rate_Hz, ...placesOf(facts.position) })
}

/** What makes two readings of a reference scan one and the same. */
const basis = (sheet: CheckedSheet, { sha256: recording, facts }: Kept) => ({
  recording,
  facts,
  technique: nameOf(sheet.technique),
  standard: nameOf(sheet.reference_standard),
  equipment: sheet.equipment,
  method: referenceMethod(sheet)
})

/** By the runs under the other shims too, where it is a set of them. */
export const standardizedId = (sheet: CheckedSheet, kept: Kept, set: readonly Kept[] = [kept]): string =>
  entryId(sha256, { kind: 'standardized', ...basisOfSet(sheet, kept, set) })

const basisOfSet = (sheet: CheckedSheet, kept: Kept, set: readonly Kept[]) => ({
  ...basis(sheet, kept),
  ...(set.length > 1 ? { set: set.map(({ sha256: recording, facts }) => ({ recording, facts })) } : {})
})

export const recheckId = (sheet: CheckedSheet, kept: Kept, setUp: SetUp): string =>
  entryId(sha256, { kind: 'recheck', ...basis(sheet, kept), setUp: setUp.name })

/** Entries for a new standardization, its document kept. */
export async function standardizationEntries(
  context: JobContext,
  kept: Kept,
  { standardization }: Standardized,
  set: readonly Kept[] = [kept]
): Promise<Result<{ readonly entries: readonly Entry[]; readonly setUp: SetUp }>> {
  const sheet = context.input.sheet as CheckedSheet
  const name = await context.input.archive.storeDocument('standardization', standardization)
  if (isRefusal(name)) return name
  const about = { kind: 'standardized', ...basisOfSet(sheet, kept, set) }
  const shims = set.flatMap(({ sha256: recording, facts: { shim_mm } }) =>
    shim_mm === undefined ? [] : [{ recording, shim_mm }]
  )
  const entries = [
    context.entry(
      { kind: 'document-stored', document: name, what: 'standardization', name: kept.facts.file },
      { ...about, kind: 'document-stored' }
    ),
    context.entry(
      {
        ...{ kind: 'standardized', standardization: name, recording: kept.sha256, method: standardization.method },
        ...('holes' in sheet ? { diameter_mm: standardization.diameter_mm } : {}),
        ...(shims.length > 0 ? { shims } : {})
      },
      about
    )
  ]
  return { entries, setUp: { name, standardization, recording: kept.sha256 } }
}

/** The standardization that an earlier run recorded under this id, read back from its document. */
export async function recordedSetUp(context: JobContext, id: string): Promise<Result<SetUp> | undefined> {
  const row = context.row(id)
  if (row === undefined) return undefined
  const entry = JSON.parse(row.body) as EntryOf<'standardized'>
  return setUpOf(context.input.archive, entry)
}

/** A standardization from its document. */
export async function setUpOf(
  archive: Pick<Archive, 'document'>,
  { standardization: name, recording }: Pick<EntryOf<'standardized'>, 'standardization' | 'recording'>
): Promise<Result<SetUp>> {
  const document = await archive.document(name)
  if (isRefusal(document)) return document
  return { name, standardization: JSON.parse(document.text) as Standardization, recording }
}

export interface Judged {
  readonly passed: boolean
  readonly drifts: EntryOf<'recheck'>['drifts']
  readonly allowed: EntryOf<'recheck'>['allowed']
  readonly noise?: EntryOf<'recheck'>['noise']
  readonly reversed?: EntryOf<'recheck'>['reversed']
  /** set where the recheck could not even be read: it counts as failed */
  readonly unread?: Refusal
}

/**
 * A recheck against the standardization in force. One whose notches can't be read has failed: nothing shows that the
 * set-up still holds. Its drift rows then say so for every notch.
 * Refuses chain/no-allowance where the technique states none: there is no default for what alters a decision.
 */
export function judge(sheet: CheckedSheet, setUp: SetUp, now: Result<Standardized>): Result<Judged> {
  const { recheck_allowance: allowance, rechecks } = sheet.technique
  if (allowance === undefined) return noAllowance()
  const isNoted = rechecks?.gain_of_sensitivity === 'is noted'
  const allowed = { ...allowance, ...(isNoted ? { gain_of_sensitivity: 'is noted' as const } : {}) }
  if (isRefusal(now)) {
    const { notches } = setUp.standardization
    const drifts = notches.map(({ id }) => ({ notch: id, amplitude: -1, angle_deg: 0, met: false }))
    return { passed: false, allowed, drifts, unread: now }
  }
  const { passed, drifts, noise, reversed } = compareRecheck(setUp.standardization, now.standardization, allowed)
  const places =
    reversed.length === 0 ? {} : { reversed: reversed.map(([one, other]): [string, string] => [one, other]) }
  return { passed, allowed, drifts: drifts.map(driftRow), noise, ...places }
}

const noAllowance = (): Refusal =>
  refuse('chain/no-allowance', {
    found: 'a recheck under a technique that states no allowance for drift',
    needed: 'technique.recheck_allowance, as the procedure has it',
    remedy: 'add it to the technique, or remove the recheck'
  })

const driftRow = (drift: RecheckResult['drifts'][number]): Judged['drifts'][number] => ({
  notch: drift.notch,
  amplitude: drift.amplitude,
  angle_deg: radiansToDegrees(drift.angle_rad),
  met: drift.verdict === 'met'
})

/** The entry of a recheck. `since`: recordings scanned since the last good check, which a failed one voids. */
export function recheckEntry(
  context: JobContext,
  kept: Kept,
  { judged, setUp, since }: { readonly judged: Judged; readonly setUp: SetUp; readonly since: readonly string[] }
): Entry {
  const { unread: _, ...said } = judged
  const voids = judged.passed ? [] : [...since]
  return context.entry(
    { kind: 'recheck', recording: kept.sha256, standardization: setUp.name, ...said, voids },
    { kind: 'recheck', ...basis(context.input.sheet as CheckedSheet, kept), setUp: setUp.name }
  )
}
