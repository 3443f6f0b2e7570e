import { type HappeningName, happeningNames, momentOf } from '../plan/index.ts'
import type { BracketRules, Happening } from './brackets.ts'
import { type Holding, ofKind } from './corrections.ts'
import type { EntryOf } from './kinds.ts'
import type { Order } from './merging/order.ts'

type Opened = EntryOf<'job-opened'>
type Kept = EntryOf<'recording-kept'>

/** The recordings of a job in their order, each as what it did to the set-up or as a scan that relies on it. */
export function happeningsOf(
  all: readonly Holding[],
  { inChain, laneOf }: Pick<Order, 'inChain' | 'laneOf'>
): readonly Happening[] {
  const [opened] = ofKind(all, 'job-opened')
  const facts = factsOf(all)
  const known = opened === undefined ? () => ({}) : circumstancesBy(opened, inChain)
  const waiting = new Map<number, readonly HappeningName[]>()
  return all.flatMap(({ seq, entry }) => {
    if (entry.kind !== 'recording-kept') return []
    const { since: now = [], ...circumstances }: Circumstances = known(entry, seq)
    // what changed before a recording that nobody judged has changed for the next one too
    const since = [...(waiting.get(laneOf(seq)) ?? []), ...now]
    const did = happening(entry.sha256, facts)
    waiting.set(laneOf(seq), did.length === 0 ? since : [])
    return did.map((one) => ({ ...one, ...circumstances, ...(since.length === 0 ? {} : { since }) }))
  })
}

/** Interval of the technique that a job was opened with. */
export const bracketRulesOf = ({ rechecks }: Pick<Opened, 'rechecks'>): BracketRules =>
  rechecks?.interval_min === undefined ? {} : { interval_s: 60 * rechecks.interval_min }

export type Circumstances = Pick<Happening, 'since' | 'seconds' | 'isUnsure'>

/** What a recording tells of its circumstances; what changed is seen against the recordings before it. */
export type Telling = Pick<Kept, 'taken' | 'examinedBy' | 'since' | 'order' | 'equipment' | 'after' | 'setUp'>

type Job = Pick<Opened, 'examinedBy' | 'equipment' | 'rechecks'>

/**
 * Asked for the recordings one after the other, in their order and with their places: when each was taken, and what asks
 * for a recheck before it. What a person said, and a person or a part that is another than at the recording before. Where
 * two devices worked apart, that is the last one that the device knew of.
 */
export function circumstancesBy(
  job: Job,
  isKnownTo: (before: number, at: number) => boolean
): (telling: Telling, at: number) => Circumstances {
  const asking = new Set<HappeningName>(job.rechecks?.after ?? happeningNames)
  const all: Met[] = []
  return (telling, at) => {
    const now = {
      at,
      person: telling.examinedBy ?? job.examinedBy,
      setUp: setUpOf(telling),
      parts: partsOf(telling, job)
    }
    const before = (is: (one: Met) => boolean) => all.findLast((one) => is(one) && isKnownTo(one.at, at))
    const changes = [...(telling.since ?? []), ...changesTo(now, before)]
    all.push(now)
    const since = [...new Set(changes)].filter((name) => asking.has(name))
    return { ...(since.length === 0 ? {} : { since }), ...timeOf(telling), ...(telling.order && { isUnsure: true }) }
  }
}

const partNames = ['probe', 'cable', 'instrument'] as const

/** What nobody knows tells of no change, and stands for nothing. */
type Parts = Partial<Record<(typeof partNames)[number], string>>

interface Met {
  readonly at: number
  readonly person: string
  readonly setUp: string
  readonly parts: Parts
}

/** Each set-up of the technique has parts of its own: a second probe is not the first one changed. */
const setUpOf = ({ setUp, after }: Telling): string =>
  setUp ?? (after === 'cleaned and entered again' ? undefined : after) ?? 'the first set-up'

const partsOf = (telling: Telling, { equipment }: Job): Parts =>
  Object.fromEntries(
    partNames
      .map((part) => [part, telling.equipment?.[part] ?? equipment?.[part] ?? 'unknown'] as const)
      .filter(([, name]) => name !== 'unknown')
  )

function changesTo(
  { person, setUp, parts }: Met,
  before: (is: (one: Met) => boolean) => Met | undefined
): readonly HappeningName[] {
  const isOther = (before(() => true)?.person ?? person) !== person
  const changed = partNames.filter((part) => {
    const now = parts[part]
    const was =
      now === undefined ? now : before((one) => one.setUp === setUp && one.parts[part] !== undefined)?.parts[part]
    return was !== undefined && was !== now
  })
  return [...(isOther ? (['person'] as const) : []), ...changed]
}

const timeOf = ({ taken }: Telling): Pick<Happening, 'seconds'> => {
  const moment = taken === undefined ? undefined : momentOf(taken.time)
  return moment === undefined ? {} : { seconds: moment.seconds }
}

interface Facts {
  /** standardization -> the reference recording it was made from */
  readonly setUps: ReadonlyMap<string, string>
  readonly references: ReadonlySet<string>
  readonly checks: ReadonlyMap<string, { readonly passed: boolean; readonly standardization: string }>
  readonly scans: ReadonlyMap<string, string>
}

function factsOf(all: readonly Holding[]): Facts {
  const made = ofKind(all, 'standardized')
  const checks = new Map<string, { readonly passed: boolean; readonly standardization: string }>()
  for (const { recording, passed, standardization } of ofKind(all, 'recheck')) {
    // judged again, it passes only if it never failed
    checks.set(recording, { standardization, passed: passed && checks.get(recording)?.passed !== false })
  }
  return {
    setUps: new Map(made.map(({ standardization, recording }) => [standardization, recording])),
    references: new Set(made.map(({ recording }) => recording)),
    checks,
    scans: new Map(ofKind(all, 'examined').map((one) => [one.recording, one.standardization]))
  }
}

type Did = Pick<Happening, 'what' | 'recording' | 'setUp'>

function happening(recording: string, { setUps, references, checks, scans }: Facts): readonly Did[] {
  const setUpOf = (standardization: string) => setUps.get(standardization) ?? standardization
  const check = checks.get(recording)
  if (check !== undefined) {
    return [{ what: check.passed ? 'passed' : 'failed', recording, setUp: setUpOf(check.standardization) }]
  }
  if (references.has(recording)) return [{ what: 'reference', recording, setUp: recording }]
  const used = scans.get(recording)
  return used === undefined || used === 'none' ? [] : [{ what: 'scan', recording, setUp: setUpOf(used) }]
}
