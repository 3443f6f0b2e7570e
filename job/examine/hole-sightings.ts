import type { Class, Evidence, Interpreted } from '../interpret/index.ts'
import { UNIT } from '../signal/index.ts'
import type { Stretch } from './along.ts'
import type { Depths } from './strokes.ts'

/** What was met in one stroke of a hand-fed pass. */
export interface Sighting {
  readonly one: Interpreted
  readonly span: Stretch
  readonly depths: Depths
  /** 0 going in, 1 coming out, 2 while it turned inside */
  readonly pass: number
}

/** Relative angles are known to 5°: sightings no further apart may be the same. */
const SAME_ANGLE = (5 / 360) * UNIT

/**
 * What both strokes met, at one angle, in one layer and at depths that may be the same, is one indication: the stronger
 * sighting, the other one kept in its evidence, and the depths that both allow. In one stroke only it is undecided. Strokes
 * meet the flaws of one angle in opposite order; where they do not meet equally many, which is which is left open: all are
 * undecided.
 */
export function sightedOnce(sightings: readonly Sighting[]): readonly Sighting[] {
  const going = sightings.filter(({ pass }) => pass === 0)
  const coming = sightings.filter(({ pass }) => pass === 1)
  const turning = sightings.filter(({ pass }) => pass > 1).map((one) => undecided(one, 'where the probe turned inside'))
  const groups = grouped(going, coming).flatMap(({ first, second }) => joinedIn(first, second))
  return [...groups, ...turning].sort((a, b) => a.one.at - b.one.at)
}

interface Group {
  readonly first: Sighting[]
  readonly second: Sighting[]
}

/** Sightings that hang together by being perhaps the same. */
function grouped(going: readonly Sighting[], coming: readonly Sighting[]): readonly Group[] {
  let groups: Group[] = going.map((one) => ({ first: [one], second: [] }))
  for (const one of coming) {
    const near = groups.filter(({ first }) => first.some((other) => mayBeSame(one, other)))
    const whole = { first: near.flatMap(({ first }) => first), second: [...near.flatMap(({ second }) => second), one] }
    groups = [...groups.filter((group) => !near.includes(group)), whole]
  }
  return groups
}

function mayBeSame(a: Sighting, b: Sighting): boolean {
  const turns = (a.one.at - b.one.at) / UNIT
  const beside = UNIT * Math.abs(turns - Math.floor(turns + 0.5))
  return beside <= SAME_ANGLE && overlap(a.depths, b.depths) !== undefined
}

/** Depths that both allow. Layers touch at their joint alone: that is no common depth. */
function overlap(a: Depths, b: Depths): Depths | undefined {
  const least_m = Math.max(a.least_m, b.least_m)
  const most_m = Math.min(a.most_m, b.most_m)
  return most_m > least_m ? { least_m, most_m } : undefined
}

function joinedIn(first: readonly Sighting[], second: readonly Sighting[]): readonly Sighting[] {
  if (second.length === 0) return first.map((one) => undecided(one, onlyIn(one)))
  if (first.length === 0) return second.map((one) => undecided(one, onlyIn(one)))
  const inward = [...first].sort((a, b) => a.one.at - b.one.at)
  const outward = [...second].sort((a, b) => b.one.at - a.one.at)
  const areTold = inward.length === outward.length && inward.every((one, i) => mayBeSame(one, outward[i]!))
  if (areTold) return inward.map((one, i) => both(one, outward[i]!))
  const [more, fewer] = inward.length >= outward.length ? [inward, outward] : [outward, inward]
  return more.map((one) => open(one, fewer))
}

const onlyIn = ({ pass }: Sighting): string => (pass === 0 ? 'going in only' : 'coming out only')

function both(a: Sighting, b: Sighting): Sighting {
  const [main, other] = sizeOf(b) > sizeOf(a) ? [b, a] : [a, b]
  const { one } = main
  const graver = graverOf(one, other.one)
  const sentence = `Met in both strokes: also ${told(other)}.`
  return {
    ...main,
    depths: overlap(a.depths, b.depths)!,
    one: {
      ...one,
      ...graver,
      crossedAlarm: one.crossedAlarm || other.one.crossedAlarm,
      evidence: [spoken(sentence, 'for'), ...one.evidence]
    }
  }
}

const sizeOf = ({ one }: Sighting): number => Math.abs(one.features.matched)

/** Where strokes differ in what it is: relevant if either says so, else undecided. */
function graverOf(a: Interpreted, b: Interpreted): { readonly class: Class; readonly cause: string } {
  if (a.class === b.class || a.class === 'relevant') return { class: a.class, cause: a.cause }
  if (b.class === 'relevant') return { class: b.class, cause: b.cause }
  return { class: 'undecided', cause: a.cause }
}

function open(sighting: Sighting, others: readonly Sighting[]): Sighting {
  const near = others.filter((other) => mayBeSame(sighting, other))
  const met = near.length === 0 ? 'nothing that it can be' : near.map(told).join('; ')
  const sentence = `The strokes do not meet equally many here, and which is which is left open; the other stroke met ${met}.`
  const crossedAlarm = [sighting, ...near].some(({ one }) => one.crossedAlarm)
  return withClass({ ...sighting, one: { ...sighting.one, crossedAlarm } }, sentence)
}

const undecided = (sighting: Sighting, where: string): Sighting =>
  withClass(
    sighting,
    `Met ${where}: not confirmed by another stroke, so it is undecided (by itself ${sighting.one.class}).`
  )

const withClass = (sighting: Sighting, sentence: string): Sighting => ({
  ...sighting,
  one: { ...sighting.one, class: 'undecided', evidence: [spoken(sentence, 'against'), ...sighting.one.evidence] }
})

const spoken = (sentence: string, speaks: Evidence['speaks']): Evidence => ({ what: 'strokes', sentence, speaks })

function told({ one, depths, pass }: Sighting): string {
  const turns = one.at / UNIT
  const angle = 360 * (turns - Math.floor(turns))
  const way = pass === 0 ? 'going in' : 'coming out'
  const at = `at revolution ${turns.toFixed(2)} (${angle.toFixed(1)}°)`
  const between = `between ${(1e3 * depths.least_m).toFixed(2)} and ${(1e3 * depths.most_m).toFixed(2)} mm`
  return `${way} ${at}, ${between}, size ${one.features.matched.toFixed(2)}, taken there for: ${one.class}`
}
