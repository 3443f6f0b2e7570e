import type { IndicationOutcome } from './kinds/examining.ts'
import type { After } from './kinds/keeping.ts'

/** What several scans of one place say of one indication. */

/** An indication as one scan saw it; amplitude in units of the named notch, or as recorded for a loop. */
export interface Sighting {
  readonly id: string
  readonly recording: string
  readonly file: string
  readonly at: number
  readonly after?: After
  readonly discounted?: string
  readonly class: IndicationOutcome['class']
  readonly amplitude: number
  readonly crossedAlarm: boolean
  readonly zone: string
}

/** A scan in which it was not seen. `looked`: the scan counts, and examined the zone it lies in. */
export interface Unseen {
  readonly recording: string
  readonly file: string
  readonly at: number
  readonly after?: After
  readonly looked: boolean
}

export type Standing =
  | 'confirmed'
  | 'seen again'
  | 'not seen again'
  | 'not scanned again'
  | 'not scanned again after cleaning'
  | 'closed as false by proposal'

export interface Said {
  /** the worst that any scan took it for; a false one that came again is undecided at least */
  readonly class: IndicationOutcome['class']
  readonly standing: Standing
  /** waits for a person, or for another scan: its place can not be closed */
  readonly open: boolean
  readonly says: string
}

interface Known {
  readonly seen: readonly Sighting[]
  readonly unseen: readonly Unseen[]
  readonly crossedAlarm: boolean
}

const order: readonly IndicationOutcome['class'][] = [
  'nonrelevant',
  'false',
  'damage, not a crack',
  'undecided',
  'relevant'
]

/**
 * - False, and a scan after cleaning and entering again did not see it: closed as false by proposal; above the alarm level
 *   a person has to agree. Seen again by any later scan: undecided at least. Neither: open.
 * - Relevant in two scans that count: confirmed. What a later scan did not see stays open, and that is said.
 */
export function sayOf(known: Known): Said {
  const worst = order[Math.max(...known.seen.map((one) => order.indexOf(one.class)))]!
  if (worst === 'false') return ofFalse(known)
  const standing = standingOf(known, worst)
  const open = worst !== 'nonrelevant' || known.crossedAlarm
  return { class: worst, standing, open, says: `${standing}${counted(known)}${alarm(worst, known)}` }
}

function standingOf({ seen, unseen }: Known, worst: Said['class']): Standing {
  const sound = seen.filter(({ discounted }) => discounted === undefined)
  if (worst === 'relevant' && sound.filter((one) => one.class === 'relevant').length > 1) return 'confirmed'
  if (sound.length > 1) return 'seen again'
  return unseen.some(({ at, looked }) => looked && at > seen[0]!.at) ? 'not seen again' : 'not scanned again'
}

function ofFalse(known: Known): Said {
  const { seen, unseen, crossedAlarm } = known
  const last = seen.at(-1)!.at
  if (seen.length > 1) {
    const says = `seen again${counted(known)}: what comes again is undecided at least`
    return { class: 'undecided', standing: 'seen again', open: true, says }
  }
  const cleaned = unseen.some(({ at, after, looked }) => looked && at > last && after === 'cleaned and entered again')
  if (!cleaned) {
    const standing = 'not scanned again after cleaning'
    return { class: 'false', standing, open: true, says: `${standing}${counted(known)}` }
  }
  const standing = 'closed as false by proposal'
  const says = `not seen again after cleaning${counted(known)}; ${standing}${alarm('false', known)}`
  return { class: 'false', standing, open: crossedAlarm, says }
}

const alarm = (of: Said['class'], { crossedAlarm }: Known): string =>
  crossedAlarm && (of === 'false' || of === 'nonrelevant') ? '; above the alarm level: a person has to agree' : ''

/** In how many of the scans that could have shown it. */
function counted({ seen, unseen }: Known): string {
  const all = seen.length + unseen.filter(({ looked }) => looked).length
  return all === 1 ? '' : `, in ${seen.length} of ${all} scans that looked there`
}
