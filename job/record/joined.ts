import { PI } from '@trueloop/ground/numerics'
import { type Said, type Sighting, sayOf, type Unseen } from './joined-says.ts'
import type { IndicationOutcome } from './kinds/examining.ts'
import type { After } from './kinds/keeping.ts'
import type { EntryOf } from './kinds.ts'

/**
 * Several scans of one place, joined: which indication of one is which of another, and what follows. Nothing is ever
 * removed by a scan that did not see it. A projection: made anew from the entries at each replay.
 */

/** One scan of a place as the joining needs it. */
export interface ScanOfPlace {
  readonly recording: string
  readonly file: string
  /** its place in the order of the scans */
  readonly at: number
  readonly after?: After
  /** turned against the technique's sense: its angles run the other way */
  readonly reversed: boolean
  /** along a track, which has no angle: the position alone tells */
  readonly track?: boolean
  /** why it may neither confirm nor close anything; what it saw stays seen */
  readonly discounted?: string
  readonly zones: readonly { readonly zone: string; readonly state: 'examined' | 'not examined' }[]
  readonly indications: readonly IndicationOutcome[]
}

export interface JoinedIndication extends Said {
  /** id in the scan that saw it first */
  readonly id: string
  /** in the order of the scans */
  readonly seen: readonly Sighting[]
  readonly unseen: readonly Unseen[]
  readonly crossedAlarm: boolean
  /** a person's class for all of these sightings; absent where nobody has said one since the last of them */
  readonly decided?: EntryOf<'interpreted'>
}

/** Two indications farther apart round the hole are two, rad. */
const mostAngle_rad = (25 * PI) / 180
/** The same down the hole, m, unless their bands overlap. */
const mostDepth_m = 0.8e-3

interface Met {
  readonly scan: ScanOfPlace
  readonly one: IndicationOutcome
}

/**
 * Joins the scans of one place, given in any order. Indications are one where they lie within 25° of each other and
 * within 0.8 mm in depth or with overlapping bands: the nearest pair first, never two of one scan. What has no known
 * angle or depth is joined with nothing; on a track the position alone counts. Angles of a reversed scan run the other way.
 */
export function joinScans(scans: readonly ScanOfPlace[]): readonly JoinedIndication[] {
  const ordered = [...scans].sort((a, b) => a.at - b.at)
  const met = ordered.flatMap((scan) => scan.indications.map((one) => ({ scan, one })))
  return groupsOf(met)
    .map((group) => joinedOf(group, ordered))
    .sort((a, b) => a.seen[0]!.at - b.seen[0]!.at || byText(a.id, b.id))
}

interface Pair {
  readonly a: number
  readonly b: number
  readonly distance: number
}

/** Groups of what is one indication, each with at most one of every scan, in the order of the scans. */
function groupsOf(met: readonly Met[]): readonly (readonly Met[])[] {
  const groups = new Map<number, readonly number[]>(met.map((_, at) => [at, [at]]))
  for (const { a, b } of pairsOf(met)) {
    const [one, other] = [groups.get(a)!, groups.get(b)!]
    if (one === other || sharesScan(met, one, other)) continue
    const both = [...one, ...other].sort((x, y) => x - y)
    for (const at of both) groups.set(at, both)
  }
  return [...new Set(groups.values())].map((group) => group.map((at) => met[at]!))
}

const sharesScan = (met: readonly Met[], one: readonly number[], other: readonly number[]): boolean =>
  one.some((a) => other.some((b) => met[a]!.scan.at === met[b]!.scan.at))

/** `met` stands in the order of the scans, each scan's in its own order: equal distances are settled by it. */
function pairsOf(met: readonly Met[]): readonly Pair[] {
  const pairs: Pair[] = []
  for (let a = 0; a < met.length; a++)
    for (let b = a + 1; b < met.length; b++) {
      const distance = met[a]!.scan.at === met[b]!.scan.at ? undefined : distanceOf(met[a]!, met[b]!)
      if (distance !== undefined) pairs.push({ a, b, distance })
    }
  return pairs.sort((p, q) => p.distance - q.distance || p.a - q.a || p.b - q.b)
}

/** How far two indications are apart in shares of what is allowed; undefined where they can not be one. */
function distanceOf(a: Met, b: Met): number | undefined {
  const turn = a.scan.track === true ? 0 : apart(angleIn(a), angleIn(b))
  const [here, there] = [bandOf(a.one), bandOf(b.one)]
  if (turn === undefined || here === undefined || there === undefined || turn > mostAngle_rad) return undefined
  const depth = Math.abs(here.z_m - there.z_m)
  const overlaps = here.z0_m <= there.z1_m && there.z0_m <= here.z1_m
  if (depth > mostDepth_m && !overlaps) return undefined
  return turn / mostAngle_rad + depth / mostDepth_m
}

const angleIn = ({ scan, one: { angle_rad } }: Met): number | undefined =>
  angle_rad === undefined || !scan.reversed ? angle_rad : -angle_rad

const isPlaced = (met: Met): boolean =>
  (met.scan.track === true || angleIn(met) !== undefined) && bandOf(met.one) !== undefined

function apart(a: number | undefined, b: number | undefined): number | undefined {
  if (a === undefined || b === undefined) return undefined
  const turns = (a - b) / (2 * PI)
  return 2 * PI * Math.abs(turns - Math.round(turns))
}

function bandOf({ z_m, z0_m = z_m, z1_m = z_m }: IndicationOutcome) {
  return z_m === undefined || z0_m === undefined || z1_m === undefined ? undefined : { z_m, z0_m, z1_m }
}

function joinedOf(group: readonly Met[], scans: readonly ScanOfPlace[]): JoinedIndication {
  const seen = group.map(sightingOf)
  const first = seen[0]!
  const unseen = scans
    .filter(({ at }) => seen.every((one) => one.at !== at))
    .map((scan) => unseenOf(scan, group.every(isPlaced) ? seen.map(({ zone }) => zone) : []))
  const crossedAlarm = seen.some((one) => one.crossedAlarm)
  return { id: first.id, seen, unseen, crossedAlarm, ...sayOf({ seen, unseen, crossedAlarm }) }
}

const sightingOf = ({ scan: { recording, file, at, after, discounted }, one }: Met): Sighting => ({
  ...{ id: one.id, recording, file, at, class: one.class, amplitude: one.amplitude },
  ...{ crossedAlarm: one.crossedAlarm, zone: one.zone },
  ...(after === undefined ? {} : { after }),
  ...(discounted === undefined ? {} : { discounted })
})

/** Every zone in which it was seen has to be examined: an indication on a border lies in one of two. */
function unseenOf({ recording, file, at, after, discounted, zones }: ScanOfPlace, among: readonly string[]): Unseen {
  const isExamined = (name: string) => zones.some(({ zone, state }) => zone === name && state === 'examined')
  const looked = discounted === undefined && among.length > 0 && among.every(isExamined)
  return { recording, file, at, looked, ...(after === undefined ? {} : { after }) }
}

const byText = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0)
