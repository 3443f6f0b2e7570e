import { type Call, type HoleOutcome, reaches } from './score.ts'

/**
 * The classing table: what is really there against what it was classed as. Every thing that is there counts once, by the
 * gravest class of the indications at it, or as not indicated; indications at nothing count each.
 */

/** Classes from the gravest on; one that is not in this list is the least grave. */
const gravity = ['relevant', 'undecided', 'damage, not a crack', 'nonrelevant', 'false']

export interface ClassedHole {
  readonly truth: Pick<HoleOutcome['truth'], 'flaws' | 'nuisances'>
  readonly indications: readonly (Pick<Call, 'angle_deg' | 'z_mm'> & { readonly class: string })[]
}

export interface ClassRow {
  /** true kind: `crack, corner`, `scratch`, …; `nothing` for indications where nothing is */
  readonly kind: string
  readonly count: number
  readonly notIndicated: number
  readonly classes: Readonly<Record<string, number>>
}

/** One row for every kind that is in the holes, in the order of their names; the row `nothing` last, where it has any. */
export function classTable(holes: readonly ClassedHole[]): readonly ClassRow[] {
  const seen = holes.flatMap(seenIn)
  const kinds = [...new Set(seen.map(({ kind }) => kind))].sort()
  const ordered = [...kinds.filter((kind) => kind !== NOTHING), ...kinds.filter((kind) => kind === NOTHING)]
  return ordered.map((kind) => rowOf(kind, seen))
}

const NOTHING = 'nothing'

interface Seen {
  readonly kind: string
  readonly class?: string
}

function rowOf(kind: string, seen: readonly Seen[]): ClassRow {
  const ofKind = seen.filter((one) => one.kind === kind)
  const classes: Record<string, number> = {}
  for (const { class: name } of ofKind) if (name !== undefined) classes[name] = (classes[name] ?? 0) + 1
  return { kind, count: ofKind.length, notIndicated: ofKind.filter((one) => one.class === undefined).length, classes }
}

interface Thing {
  readonly kind: string
  readonly angle_deg?: number
  readonly z0_mm?: number
  readonly z1_mm?: number
}

/** An indication belongs to the most definite thing it lies at: one with an angle, one with a depth, one that is anywhere. */
function seenIn({ truth, indications }: ClassedHole): readonly Seen[] {
  const things = thingsIn(truth)
  const at = new Map<Thing, string[]>(things.map((thing) => [thing, []]))
  const elsewhere: Seen[] = []
  for (const one of indications) {
    const thing = things.find((candidate) => reaches(one, candidate, 'false'))
    if (thing === undefined) elsewhere.push({ kind: NOTHING, class: one.class })
    else at.get(thing)!.push(one.class)
  }
  return [...[...at].map(([{ kind }, classes]) => ({ kind, ...gravest(classes) })), ...elsewhere]
}

function thingsIn({ flaws, nuisances }: ClassedHole['truth']): readonly Thing[] {
  const things: readonly Thing[] = [
    ...flaws.map((flaw) => ({ ...flaw, kind: `${flaw.kind}, ${flaw.place}` })),
    ...nuisances
  ]
  return [...things].sort((a, b) => vagueness(a) - vagueness(b))
}

/** The mains are in every recording, so that they come last. */
function vagueness({ kind, angle_deg, z0_mm }: Thing): number {
  if (angle_deg !== undefined) return 0
  if (z0_mm !== undefined) return 1
  return kind === 'hum' ? 3 : 2
}

function gravest(classes: readonly string[]): { readonly class?: string } {
  const rank = (name: string): number => (gravity.includes(name) ? gravity.indexOf(name) : gravity.length)
  const [first] = [...classes].sort((a, b) => rank(a) - rank(b))
  return first === undefined ? {} : { class: first }
}
