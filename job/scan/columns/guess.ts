/** Which column is what: from the names first, from the behavior of the values where the names say nothing. */
import type { RawColumn } from '../format.ts'
import { type Behavior, behaviorOf, unwrapped } from './behavior.ts'
import {
  ABSOLUTE_WORDS,
  ANGLE_WORDS,
  FAMILIES,
  type Family,
  groupOf,
  INDEX_WORDS,
  isPlainGroup,
  type PairPart,
  POSITION_WORDS,
  speaksOf,
  TIME_WORDS,
  type Title,
  titleOf
} from './names.ts'
import { isAngleUnit, lengthScale, timeScale } from './units.ts'

export type Role = 'x' | 'y' | 'index' | 'time' | 'position' | 'absolute' | 'angle' | 'ignore'

export interface Column {
  /** from 0; a cell that holds a complex number counts as two */
  readonly number: number
  readonly name: string
  readonly unit?: string
  readonly role: Role
  /** 0 … 1; below CERTAIN a person has to confirm the role */
  readonly certainty: number
  readonly reason: string
  readonly sample: readonly string[]
}

/** From here on a guessed role is used without being confirmed. */
export const CERTAIN = 0.8

interface Facts {
  readonly number: number
  readonly raw: RawColumn
  readonly title: Title
  readonly behavior: Behavior
}

interface Claim {
  readonly number: number
  readonly role: Role
  readonly certainty: number
  readonly reason: string
}

type Claimer = (free: readonly Facts[], claims: readonly Claim[]) => readonly Claim[]

/** A role with certainty and reason for every column. Never more than one column a role, `ignore` and `angle` apart. */
export function guessColumns(raw: readonly RawColumn[]): readonly Column[] {
  const facts = raw.map((column, number) => factsOf(column, number))
  const claims: Claim[] = []
  for (const claimer of CLAIMERS) {
    const free = facts.filter((fact) => !claims.some((claim) => claim.number === fact.number))
    claims.push(...claimer(free, claims))
  }
  return facts.map((fact) => columnOf(fact, claims))
}

function factsOf(raw: RawColumn, number: number): Facts {
  const values = raw.period_s === undefined ? raw.values : unwrapped(raw.values, raw.period_s)
  return { number, raw, title: titleOf(raw.names), behavior: behaviorOf(values) }
}

function columnOf(fact: Facts, claims: readonly Claim[]): Column {
  const { number, raw, title } = fact
  const claim = claims.find((made) => made.number === number) ?? unclaimed(fact)
  const unit = title.unit ?? (raw.kind === 'clock' ? 's' : undefined)
  const suffix = raw.kind === 'real' ? ' (real part)' : raw.kind === 'imaginary' ? ' (imaginary part)' : ''
  const name = `${title.name === '' ? `column ${number}` : title.name}${suffix}`
  const { role, certainty, reason } = claim
  return { number, name, role, certainty, reason, sample: raw.sample, ...(unit === undefined ? {} : { unit }) }
}

const unclaimed = (fact: Facts): Omit<Claim, 'number'> => ({
  role: 'ignore',
  certainty: 0.5,
  reason: fact.raw.kind === 'text' ? 'holds text' : 'neither its name nor its values speak for a use'
})

const has = (claims: readonly Claim[], role: Role): boolean => claims.some((claim) => claim.role === role)
const named = (fact: Facts): boolean => fact.title.words.length > 0
const single = (found: Claim | undefined): readonly Claim[] => (found === undefined ? [] : [found])

const claimText: Claimer = (free) =>
  free
    .filter((fact) => fact.raw.kind === 'text')
    .map(({ number }) => ({ number, role: 'ignore', certainty: 0.9, reason: 'holds text' }))

const claimTime: Claimer = (free) => {
  const able = free.filter((fact) => fact.raw.kind === 'clock' || speaksOf(fact.title.words, TIME_WORDS))
  const best = able.find((fact) => fact.behavior.advancing) ?? able[0]
  return best === undefined ? [] : [timeClaim(best)]
}

function timeClaim(fact: Facts): Claim {
  const claim = { number: fact.number, role: 'time' as const }
  if (!fact.behavior.advancing) return { ...claim, certainty: 0.4, reason: 'named like a time, but does not advance' }
  if (fact.raw.kind === 'clock') return { ...claim, certainty: 0.95, reason: 'clock times that advance' }
  return timeScale(fact.title.unit) === undefined
    ? { ...claim, certainty: 0.75, reason: 'named as a time and advances, but no unit is given; seconds are assumed' }
    : { ...claim, certainty: 0.97, reason: `named as a time in ${fact.title.unit} and advances` }
}

const isLength = (fact: Facts): boolean =>
  lengthScale(fact.title.unit) !== undefined && !speaksOf(fact.title.words, ABSOLUTE_WORDS)

const claimPosition: Claimer = (free) => {
  const plain = free.filter((fact) => fact.raw.kind === 'number')
  const lengths = plain.filter(isLength)
  const best = lengths[0] ?? plain.find((fact) => speaksOf(fact.title.words, POSITION_WORDS) && !isTriple(fact, free))
  if (best === undefined) return []
  const [certainty, reason] = positionReason(best, lengths.length)
  return [{ number: best.number, role: 'position', certainty, reason }]
}

/** `x, y, z` side by side are coordinates more likely than a position beside a signal. */
const isTriple = (fact: Facts, free: readonly Facts[]): boolean =>
  fact.title.base.toLowerCase() === 'z' && ['x', 'y'].every((name) => free.some((f) => f.title.words.join() === name))

function positionReason(fact: Facts, lengths: number): [number, string] {
  if (lengths > 1) return [0.6, `the first of ${lengths} columns with a unit of length`]
  return lengths === 1
    ? [0.92, `its unit (${fact.title.unit}) is a length`]
    : [0.6, 'named like a position, but no unit of length is given']
}

interface Pair {
  readonly x: Facts
  readonly y: Facts
  readonly certainty: number
  readonly reason: string
}

const claimPair: Claimer = (free) => {
  const pairs = [...complexPairs(free), ...FAMILIES.flatMap((family) => familyPairs(family, free))]
  const best = [...pairs].sort((a, b) => b.certainty - a.certainty)[0]
  if (best === undefined) return []
  const rivals = pairs.filter((pair) => pair.x !== best.x && pair.y !== best.y && pair.x !== best.y).length
  const reason = rivals === 0 ? best.reason : `${best.reason}, but the first of ${rivals + 1} pairs`
  const certainty = rivals === 0 ? best.certainty : Math.min(best.certainty, 0.6)
  return [
    { number: best.x.number, role: 'x', certainty, reason },
    { number: best.y.number, role: 'y', certainty, reason }
  ]
}

const complexPairs = (free: readonly Facts[]): readonly Pair[] =>
  free
    .filter((fact) => fact.raw.kind === 'real')
    .flatMap((x) => {
      const y = free.find((fact) => fact.raw.kind === 'imaginary' && fact.raw.pair === x.raw.pair)
      return y === undefined ? [] : [{ x, y, certainty: 0.95, reason: 'two parts of a complex number in one cell' }]
    })

function familyPairs(family: Family, free: readonly Facts[]): readonly Pair[] {
  const xs = partsOf(family.x, free)
  const ys = partsOf(family.y, free)
  return xs.flatMap(({ fact: x, group }) => {
    const partners = ys.filter((part) => part.group === group && part.fact !== x)
    return partners.length === 1 ? [judgedPair(family, { x, y: partners[0]!.fact, group }, free)] : []
  })
}

function partsOf(words: readonly string[], free: readonly Facts[]): readonly { fact: Facts; group: string }[] {
  return free
    .filter((fact) => fact.raw.kind === 'number')
    .flatMap((fact) => {
      const word = words.find((part) => fact.title.words.includes(part))
      return word === undefined ? [] : [{ fact, group: groupOf(fact.title.words, word) }]
    })
}

function judgedPair(family: Family, pair: { x: Facts; y: Facts; group: string }, free: readonly Facts[]): Pair {
  const { x, y, group } = pair
  const doubt = pairDoubt(pair, free)
  const certainty = doubt !== '' ? 0.6 : isPlainGroup(group) ? 0.95 : 0.85
  return { x, y, certainty, reason: `named as ${family.name}${doubt === '' ? '' : `, but ${doubt}`}` }
}

function pairDoubt({ x, y }: { x: Facts; y: Facts }, free: readonly Facts[]): string {
  const part: PairPart | undefined = x.behavior.rising ? 'x' : y.behavior.rising ? 'y' : undefined
  if (part !== undefined && x.behavior.count > FEW) return `${part} only ever rises, like a time or a position`
  if (free.some((fact) => isTriple(fact, free))) return 'a column z beside them speaks for coordinates'
  if (isAngleUnit(x.title.unit) || isAngleUnit(y.title.unit)) return 'one is in units of an angle'
  return ''
}

const claimIndex: Claimer = (free) => {
  const fact = free.find((one) => speaksOf(one.title.words, INDEX_WORDS))
  if (fact === undefined) return []
  const claim = { number: fact.number, role: 'index' as const }
  const { rising, integers, twoValued, constant } = fact.behavior
  if (rising && integers) return [{ ...claim, role: 'ignore', certainty: 0.9, reason: 'counts the rows' }]
  if (twoValued) return [{ ...claim, certainty: 0.97, reason: 'named as an index and has two values' }]
  if (constant) return [{ ...claim, certainty: 0.85, reason: 'named as an index; no pulse in the part looked at' }]
  return [{ ...claim, certainty: 0.85, reason: 'named as an index' }]
}

const claimAbsolute: Claimer = (free, claims) => {
  const fact = free.find((one) => speaksOf(one.title.words, ABSOLUTE_WORDS))
  const certainty = has(claims, 'x') ? 0.9 : 0.6
  const reason = 'named as the absolute (lift-off, coating) channel'
  return single(fact && { number: fact.number, role: 'absolute', certainty, reason })
}

const claimAngle: Claimer = (free) =>
  free
    .filter((fact) => isAngleUnit(fact.title.unit) || speaksOf(fact.title.words, ANGLE_WORDS))
    .map(({ number }) => ({ number, role: 'angle', certainty: 0.8, reason: 'named as an angle; not used' }))

/** Where the names gave no sure pair, the values speak, never loud enough to go unconfirmed. */
const claimByBehavior: Claimer = (free, claims) => {
  if (claims.some((claim) => claim.role === 'x' && claim.certainty >= CERTAIN)) return []
  const rest = free.filter((fact) => !fact.behavior.constant && fact.raw.kind === 'number')
  const made: Claim[] = []
  const taken = (fact: Facts): boolean => made.some((claim) => claim.number === fact.number)
  for (const [role, certainty, reason, fits] of BEHAVIORS) {
    const fact = rest.find((one) => !taken(one) && fits(one))
    if (fact !== undefined && !has(claims, role)) made.push({ number: fact.number, role, certainty, reason })
  }
  return made
}

const rises = (fact: Facts): boolean => fact.behavior.rising && fact.behavior.count > FEW
const varied = (fact: Facts): boolean => !rises(fact) && !fact.behavior.twoValued
/** So few values show no behavior. */
const FEW = 8

const BEHAVIORS: readonly [Role, number, string, (fact: Facts) => boolean][] = [
  ['time', 0.6, 'every value is above the one before, like a time', (fact) => !named(fact) && rises(fact)],
  ['position', 0.5, 'every value is above the one before, like a position', (fact) => !named(fact) && rises(fact)],
  ['index', 0.6, 'has two values, like an index pulse', (fact) => fact.behavior.twoValued],
  ['x', 0.5, 'the first column that varies like a signal', varied],
  ['y', 0.5, 'the second column that varies like a signal', varied]
]

const CLAIMERS: readonly Claimer[] = [
  claimText,
  claimTime,
  claimPosition,
  claimPair,
  claimIndex,
  claimAbsolute,
  claimAngle,
  claimByBehavior
]
