import type { HappeningName } from '../plan/index.ts'

/**
 * Which scans a check of the set-up covers. A scan counts when a good check stands before it and a good one after it.
 * A failed check voids what was scanned since the last good one; what is scanned after it is void too until a new
 * reference scan, and a later pass does not heal it. A scan whose closing check has not come is provisional. After a
 * change, and after the interval of the technique, nothing counts until a good check; and a check after a part was
 * exchanged does not speak for what was scanned with the old one. ISO 15549, 10.2 and 10.3.
 */

/**
 * One recording in the order of the scans. `setUp` names the set-up by the reference recording that began it, so that
 * standardizing the same recording again, by another method, leaves the brackets as they are.
 */
export interface Happening {
  readonly what: 'reference' | 'passed' | 'failed' | 'scan'
  readonly recording: string
  readonly setUp: string
  /** what was changed or happened since the recording before it and asks for a recheck */
  readonly since?: readonly HappeningName[]
  /** when it was taken, by one clock */
  readonly seconds?: number
  /** nobody is sure of its place in the order */
  readonly isUnsure?: boolean
}

export interface BracketRules {
  /** longest time from a good check to a scan, s */
  readonly interval_s?: number
}

export type Standing =
  | { readonly standing: 'certain'; readonly closedBy: string }
  | { readonly standing: 'provisional'; readonly why: string }
  | { readonly standing: 'voided'; readonly why: string; readonly by?: string }

export type Voided = Extract<Standing, { readonly standing: 'voided' }>

/** What one probe carries; the rest is of the whole set-up, whatever probe is at work. */
const ofOneProbe: readonly HappeningName[] = ['probe', 'tape', 'cable', 'drop']
const exchanged: readonly HappeningName[] = ['probe', 'tape', 'cable', 'battery', 'instrument']

const sinceFor = ({ since = [], setUp }: Happening, own: string): readonly HappeningName[] =>
  since.filter((name) => setUp === own || !ofOneProbe.includes(name))

interface Opened {
  readonly good: Happening
  readonly failed?: Happening
  readonly since: readonly HappeningName[]
}

/**
 * Asked for one recording after the other, in their order: why a scan counts for nothing, whatever comes after it;
 * undefined where it stands on a good check, and for what is no scan.
 */
export function openings(rules: BracketRules): (one: Happening) => Voided | undefined {
  const setUps = new Map<string, Opened>()
  return (one) => {
    for (const [name, { good, failed, since }] of setUps)
      setUps.set(name, { good, ...(failed && { failed }), since: [...since, ...sinceFor(one, name)] })
    if (one.what === 'scan') return openedWrongly(one, setUps.get(one.setUp), rules)
    follow(setUps, one)
    return undefined
  }
}

/** What failed speaks against every set-up that was there before it. */
function follow(setUps: Map<string, Opened>, one: Happening): void {
  const own = setUps.get(one.setUp)
  if (one.what === 'reference') setUps.set(one.setUp, { good: one, since: [] })
  else if (one.what === 'passed' && own !== undefined) setUps.set(one.setUp, { ...own, good: one, since: [] })
  else if (one.what === 'failed') for (const [name, opened] of setUps) setUps.set(name, { failed: one, ...opened })
}

function openedWrongly(scan: Happening, opened: Opened | undefined, rules: BracketRules): Voided | undefined {
  if (opened === undefined) return { standing: 'voided', why: 'no reference scan before it' }
  const { good, failed, since } = opened
  if (failed !== undefined) {
    const why = 'scanned after a failed recheck without a new standardization'
    return { standing: 'voided', why, by: failed.recording }
  }
  if (since.length > 0) return { standing: 'voided', why: `scanned after ${namesOf(since)} without a recheck` }
  return overdue(scan, good, rules)
}

const words: Readonly<Record<HappeningName, string>> = {
  person: 'a change of person',
  probe: 'a change of probe',
  tape: 'a change of tape',
  cable: 'a change of cable',
  battery: 'a change of battery',
  instrument: 'a change of instrument',
  drop: 'a drop',
  temperature: 'a change of temperature'
}

const namesOf = (since: readonly HappeningName[]): string =>
  [...new Set(since)].map((name) => words[name]).join(' and ')

function overdue(scan: Happening, good: Happening, { interval_s }: BracketRules): Voided | undefined {
  if (interval_s === undefined) return undefined
  if (scan.seconds === undefined || good.seconds === undefined) {
    return { standing: 'voided', why: 'nobody knows how long after a good recheck it was scanned' }
  }
  const passed_s = scan.seconds - good.seconds
  if (passed_s <= interval_s) return undefined
  const why = `scanned ${minutes(passed_s)} after the last good recheck, where ${minutes(interval_s)} are allowed`
  return { standing: 'voided', why }
}

/** Rounded up: what is allowed and a second more is not what is allowed. */
const minutes = (seconds: number): string => `${Math.ceil(seconds / 6 - 1e-9) / 10} min`

function closing(happenings: readonly Happening[], at: number): Standing {
  const { setUp } = happenings[at] as Happening
  let restarted = false
  for (let next = at + 1; next < happenings.length; next++) {
    const one = happenings[next] as Happening
    const own = one.setUp === setUp
    if (one.what === 'failed' && (own || !restarted)) {
      return { standing: 'voided', why: 'the recheck after it failed', by: one.recording }
    }
    const parts = restarted ? [] : sinceFor(one, setUp).filter((name) => exchanged.includes(name))
    if (parts.length > 0) return { standing: 'voided', why: `no good recheck between it and ${namesOf(parts)}` }
    if (one.what === 'passed' && own) return { standing: 'certain', closedBy: one.recording }
    restarted ||= one.what === 'reference'
  }
  return { standing: 'provisional', why: 'no good recheck after it' }
}

/** It may lie anywhere after its reference scan: every failure and every change there may have come before it. */
function unsure(happenings: readonly Happening[], { setUp }: Happening): Standing {
  const start = happenings.findIndex((one) => one.what === 'reference' && one.setUp === setUp)
  if (start < 0) return { standing: 'voided', why: 'no reference scan before it' }
  const since = happenings.slice(start + 1)
  const failed = since.find(({ what }) => what === 'failed')
  if (failed !== undefined) {
    const why = 'a recheck failed, and nobody is sure on which side of it this was scanned'
    return { standing: 'voided', why, by: failed.recording }
  }
  const changes = since.flatMap((one) => sinceFor(one, setUp))
  if (changes.length > 0) {
    return { standing: 'voided', why: `nobody is sure whether it was scanned after ${namesOf(changes)}` }
  }
  const last = since.findLast((one) => one.setUp === setUp)
  return last?.what === 'passed'
    ? { standing: 'certain', closedBy: last.recording }
    : { standing: 'provisional', why: 'no good recheck after all that it may have come after' }
}

/** How every scan stands; nothing for what is no scan. */
export function standingsOf(
  happenings: readonly Happening[],
  rules: BracketRules = {}
): readonly (Standing | undefined)[] {
  const opening = openings(rules)
  return happenings.map((one, at) => {
    const wrongly = opening(one)
    if (one.what !== 'scan') return undefined
    return one.isUnsure === true ? unsure(happenings, one) : (wrongly ?? closing(happenings, at))
  })
}
