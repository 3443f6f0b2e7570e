import { isRefusal, type Refusal } from '@trueloop/ground/refusal'
import type { NotchReading } from '../standardize/index.ts'
import { bestPlace } from './behind.ts'
import { refuse } from './codes.ts'
import { type Form, forms } from './forms.ts'
import { type KindName, type Kinds, proportionsOf } from './kinds.ts'
import { lawOf, type NotchLaw, type Taught, type Weighed, weighed } from './law.ts'
import type { Sizing } from './parameters.ts'
import { type RowNoise, rowsOf, within } from './rows.ts'
import { type Turn, turnOf } from './turn.ts'
import { type Footprint, footprintAtFace, footprintOf, type Seen } from './width.ts'

/** Footprint and law for a kind of flaw, as the notches teach them. */
export interface Lesson {
  readonly kind: KindName
  readonly footprint: Footprint
  readonly laws: readonly Weighed[]
  readonly turn: Turn | undefined
  readonly aspect: number
  /** deviation of the logarithm of it among the notches */
  readonly aspectSpread: number
  readonly shallowest_mm: number
  readonly deepest_mm: number
}

export interface Teaching {
  readonly noise: RowNoise
  readonly numbers: Sizing
  /** whether faces are known, so that what they take from a corner's answer is taken into account */
  readonly faced: boolean
  /** scatter of a response study that lets other kinds of notch stand for missing ones */
  readonly studied?: number
}

interface Followed extends Taught {
  readonly notch: NotchReading
}

/** What the notches teach for the kinds that a flaw may be of. */
export interface Lessons {
  /** by kind; empty where no notch was followed along the axis */
  readonly footprints: ReadonlyMap<KindName, Footprint>
  /** undefined where a kind has fewer notches than needed */
  readonly of: readonly Lesson[] | Refusal | undefined
}

/** What all notches of a standard teach, a kind at a time as it is asked for. */
export interface Teacher {
  /** by kind; empty where no notch was followed along the axis */
  readonly footprints: ReadonlyMap<KindName, Footprint>
  readonly lessonFor: (kind: KindName) => Lesson | Refusal | undefined
}

/**
 * Lessons out of all kinds of the standard. Corner and mid-bore notches are taken together where one law fits both; else the
 * kind's own stand alone. Refuses evaluate/law-does-not-fit.
 */
export function teacherFor({ all }: Pick<Kinds, 'all'>, teaching: Teaching): Teacher {
  const seen = new Map(all.map(({ name, notches }) => [name, seenOf(notches, teaching)]))
  const footprints = footprintsIn(seen, teaching)
  if (footprints.size === 0) return { footprints, lessonFor: () => undefined }
  const classes = new Map(
    [...seen].map(([name, notches]) => [name, followedOf(notches, footprints.get(name)!, teaching)])
  )
  const learned = { classes, footprints, law: lawsOnce(classes) }
  const known = new Map<KindName, Lesson | Refusal | undefined>()
  return {
    footprints,
    lessonFor: (kind) => {
      if (!known.has(kind)) known.set(kind, lessonFor(kind, learned, teaching))
      return known.get(kind)
    }
  }
}

/** Lessons for the kinds that a flaw may be of; the first reason why one has none. */
export function lessonsFor(kinds: Kinds, teaching: Teaching, teacher: Teacher = teacherFor(kinds, teaching)): Lessons {
  const lessons: Lesson[] = []
  for (const { name } of kinds.own) {
    const lesson = teacher.lessonFor(name)
    if (lesson === undefined || isRefusal(lesson)) return { footprints: teacher.footprints, of: lesson }
    lessons.push(lesson)
  }
  return { footprints: teacher.footprints, of: lessons }
}

interface Learned {
  readonly classes: ReadonlyMap<KindName, readonly Followed[]>
  readonly footprints: ReadonlyMap<KindName, Footprint>
  readonly law: LawOnce
}

function lessonFor(
  name: KindName,
  { classes, footprints, law }: Learned,
  { numbers, studied }: Teaching
): Lesson | Refusal | undefined {
  const mine = classes.get(name) ?? []
  const everyone = [...classes.values()].flat()
  const alone = mine.length >= numbers.leastNotches
  const together = studied !== undefined && everyone.length >= numbers.leastNotches
  if (!(alone || together)) return undefined
  const common = alone && forms.some((form) => fitsBoth({ classes, law }, form, numbers))
  const of = common || !alone ? 'all' : name
  const by = alone ? numbers : studiedNumbers(numbers, studied ?? 0)
  const laws = weighed(forms.map((form) => law(of, form, by)))
  const off = Math.min(...laws.map((one) => one.law.off))
  if (off > numbers.worstFit) return doesNotFit(off)
  const depths = (alone ? mine : everyone).map(({ depth_mm }) => depth_mm)
  return {
    kind: name,
    footprint: footprints.get(name)!,
    laws,
    turn: turnOf(of === 'all' ? everyone : mine, numbers),
    ...proportionsOf(
      (mine.length > 0 ? mine : everyone).map(({ notch }) => notch),
      numbers
    ),
    shallowest_mm: Math.min(...depths),
    deepest_mm: Math.max(...depths)
  }
}

/** The law of the notches of one kind or of all, by one form. */
type LawOnce = (of: KindName | 'all', form: Form, numbers: Sizing) => NotchLaw

/** Each law is found once: the kinds that a flaw may be of ask for the same. */
function lawsOnce(classes: ReadonlyMap<KindName, readonly Followed[]>): LawOnce {
  const known = new Map<string, NotchLaw>()
  return (of, form, numbers) => {
    const key = `${of}, ${form.name}, ${numbers.notchScatter}`
    const notches = of === 'all' ? [...classes.values()].flat() : (classes.get(of) ?? [])
    const law = known.get(key) ?? lawOf(notches, form, numbers)
    known.set(key, law)
    return law
  }
}

const studiedNumbers = (numbers: Sizing, studied: number): Sizing => ({
  ...numbers,
  notchScatter: Math.max(numbers.notchScatter, studied)
})

interface SeenNotch extends Seen {
  readonly notch: NotchReading
}

const seenOf = (notches: readonly NotchReading[], { noise }: Teaching): readonly SeenNotch[] =>
  notches.flatMap((notch) => {
    const rows = notch.rows === undefined ? undefined : rowsOf(notch.rows, noise, 1e3 * notch.z_m)
    return rows === undefined ? [] : [{ notch, rows, length_mm: notch.length_mm, ...faceOf(notch) }]
  })

/** The face that a corner notch touches, by its certified place. */
function faceOf({ place, z_m, zOff_m, length_mm }: NotchReading): Pick<SeenNotch, 'face'> {
  const side = place.includes('entry') ? 1 : place.includes('exit') ? -1 : undefined
  return side === undefined ? {} : { face: { face_mm: 1e3 * (z_m - zOff_m) - 0.5 * side * length_mm, side } }
}

/**
 * A bell is whole only away from faces: mid-bore notches show the footprint, others only where there are none. Where faces
 * are known corner notches show what they take.
 */
function footprintsIn(
  seen: ReadonlyMap<KindName, readonly SeenNotch[]>,
  { noise, numbers, faced }: Teaching
): ReadonlyMap<KindName, Footprint> {
  const seeing = { noise, alike: numbers.alike }
  const bore = seen.get('mid-bore') ?? []
  const whole = bore.length > 0 ? bore : [...seen.values()].flat()
  const free = footprintOf(whole, seeing, numbers.lengthScatter)
  const atFace = faced ? footprintAtFace(seen.get('corner') ?? [], seeing, numbers) : undefined
  return new Map(
    [...seen.keys()].flatMap((name) => {
      const own = name === 'corner' ? (atFace ?? free) : free
      return own === undefined ? [] : [[name, own] as const]
    })
  )
}

function followedOf(
  seen: readonly SeenNotch[],
  { width_mm, fade_mm, atFace }: Footprint,
  { noise, numbers: { alike, faceScatter } }: Teaching
): readonly Followed[] {
  const fits = seen.map(({ notch, rows, face }) => {
    const fade = fade_mm === undefined ? {} : { deviation_mm: fade_mm }
    const edge = atFace === undefined ? {} : { edge: { ...face!, ...fade, touching_mm: faceScatter } }
    const fit = bestPlace(within(rows, width_mm), { noise, alike, width_mm, ...edge }, notch.length_mm)
    return { notch, depth_mm: notch.depth_mm, behind: fit }
  })
  return fits.map((one) => ({ ...one, beside: largestBeside(one, fits) }))
}

/** Notches of a kind lie at one depth of the standard. */
const largestBeside = <T extends { readonly behind: { readonly y: number } }>(one: T, all: readonly T[]): number =>
  all.reduce((most, other) => (other === one ? most : Math.max(most, Math.abs(other.behind.y))), 0)

/** Fewest notches of each kind that one law for both is sought for. */
const FEWEST = 3

/** Whether one law fits both kinds: two would not fit clearly better. */
function fitsBoth({ classes, law }: Omit<Learned, 'footprints'>, form: Form, numbers: Sizing): boolean {
  const counts = [...classes.values()].map(({ length }) => length)
  if (counts.length < 2 || counts.some((count) => count < FEWEST)) return false
  const apart = [...classes.keys()].reduce((sum, name) => sum + law(name, form, numbers).deviance, 0)
  return law('all', form, numbers).deviance - apart <= numbers.kindsDiffer
}

const doesNotFit = (off: number): Refusal =>
  refuse('evaluate/law-does-not-fit', {
    found: `a law of depth and length that misses its own notches by ${Math.round(100 * off)} %`,
    needed: 'notches whose answers follow their depth and length',
    remedy: 'bounds between notches are stated; check certificate and reference scan'
  })
