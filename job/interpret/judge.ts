import { type Cause, type Class, causes, crack, type Evidence, type Weighed } from './causes/index.ts'
import type { Features } from './features.ts'
import { type Group, type Values, valuesOf } from './parameters.ts'

export type { Class, Evidence } from './causes/index.ts'

/** Numbers by which causes are set against each other. */
export const JUDGING = {
  clear: {
    value: 0.5,
    unit: 'score',
    reason: 'a cause whose weakest point speaks rather against it than for it is not taken'
  },
  crackLike: {
    value: 0.65,
    unit: 'score',
    reason: 'angle, lobe order, width and repeat all speak for a crack: then nothing else is taken instead'
  },
  beside: {
    value: 1.25,
    unit: 'of the place',
    reason: 'beside something so much stronger of the opposite order it may be the side lobe of that'
  },
  margin: {
    value: 0.2,
    unit: 'score',
    reason: 'causes of different class that are nearer than this are a tie; a crack has to be beaten by more than this'
  }
} as const satisfies Group

/** A cause with how well it fits. */
export interface Ranked {
  readonly name: string
  readonly class: Exclude<Class, 'undecided'>
  readonly score: number
  /** speaks for or against this cause */
  readonly evidence: readonly Evidence[]
}

/** What an indication is taken for, and why: a proposal that a person decides on. It removes nothing. */
export interface CauseJudgement {
  readonly class: Class
  /** name of the cause that fits best, whether it could be taken or not */
  readonly cause: string
  readonly score: number
  /** why this class; then what spoke for and against the cause that fits best */
  readonly evidence: readonly Evidence[]
  /** the best cause of another class, else the second best */
  readonly runnerUp: Ranked
  /** the crack itself, whatever was taken */
  readonly crack: Ranked
}

export interface JudgeRule {
  /** causes that the technique lets be told by phase and shape, by the trade's names */
  readonly mayClass: readonly string[]
  /** causes other than the room's own */
  readonly among?: readonly Cause[] | undefined
  /** declared numbers moved for a plateau: by the cause's name, the judge's own under `judge` */
  readonly moved?: Readonly<Record<string, Readonly<Record<string, number>>>> | undefined
}

/**
 * Judges a place by its features. Rules stand above scores: what is like a crack in angle, lobe order, width and repeat is
 * relevant; a cause that the technique does not list is told and takes nothing below undecided; neither does one that only
 * more than a recording can tell (pit, fretting, split line). Where causes of different class are near each other, or a
 * crack is not clearly beaten, or nothing fits, or something stronger lies beside it, it is undecided. No class removes an
 * indication.
 */
export function judge(features: Features, { mayClass, among = causes, moved = {} }: JudgeRule): CauseJudgement {
  const ranked: Weighing[] = []
  for (const cause of among) ranked.push(weighedCause(cause, features, moved))
  ranked.sort(byScore)
  const self = ranked.find(({ name }) => name === crack.name) ?? weighedCause(crack, features, moved)
  const listed = namesOf(mayClass)
  const values = valuesOf(JUDGING, moved.judge)
  const best = foremost(ranked, { self, listed, values })
  const ruling = ruled(best, { features, ranked, self, listed, values })
  const runnerUp = runnerUpOf(ranked, best) ?? self
  return {
    class: ruling.class,
    cause: best.name,
    score: best.score,
    evidence: [ruling.why, ...best.weighed.reasons],
    runnerUp: plain(runnerUp),
    crack: plain(self)
  }
}

const byScore = (a: Weighing, b: Weighing): number => b.score - a.score || (a.name < b.name ? -1 : 1)

/** The best of another class, else the second best. */
function runnerUpOf(ranked: readonly Weighing[], best: Weighing): Weighing | undefined {
  let second: Weighing | undefined
  for (const one of ranked) {
    if (one.class !== best.class) return one
    if (one.name !== best.name) second ??= one
  }
  return second
}

interface Weighing extends Omit<Ranked, 'evidence'> {
  readonly cause: Cause
  readonly weighed: Weighed
}

function weighedCause(cause: Cause, features: Features, moved: NonNullable<JudgeRule['moved']>): Weighing {
  const weighed = cause.weigh(features, valuesOf(cause.numbers, moved[cause.name]))
  return { cause, weighed, name: cause.name, class: cause.class, score: weighed.score }
}

/** Put into words only where it is read: most causes never are. */
const plain = ({ name, class: is, score, weighed }: Weighing): Ranked => ({
  name,
  class: is,
  score,
  get evidence() {
    return weighed.reasons
  }
})

const namesOf = (mayClass: readonly string[]): ReadonlySet<string> =>
  new Set(mayClass.map((name) => name.trim().toLowerCase()))

const isListed = ({ name, alsoCalled }: Cause, listed: ReadonlySet<string>): boolean =>
  [name, ...alsoCalled].some((one) => listed.has(one))

interface Court {
  readonly self: Weighing
  readonly listed: ReadonlySet<string>
  readonly values: Values<typeof JUDGING>
}

const mayTake = ({ cause }: Weighing, listed: ReadonlySet<string>): boolean =>
  cause.never === undefined && isListed(cause, listed)

/**
 * The cause that is judged: a crack where the place is like one; else the best. Where the technique does not list it, the
 * best of its class that is listed and fits stands for it: the class is the same.
 */
function foremost(ranked: readonly Weighing[], { self, listed, values }: Court): Weighing {
  if (self.score >= values.crackLike) return self
  const best = ranked[0] ?? self
  if (mayTake(best, listed)) return best
  const standsIn = (one: Weighing) => one.class === best.class && one.score >= values.clear && mayTake(one, listed)
  return best.cause.never === undefined ? (ranked.find(standsIn) ?? best) : best
}

function ruled(
  best: Weighing,
  {
    features,
    ranked,
    self,
    listed,
    values
  }: Court & { readonly features: Features; readonly ranked: readonly Weighing[] }
) {
  if (best.class === 'relevant' && best.score >= values.crackLike) return crackLike(best, { ranked, listed, values })

  const refused =
    againstPlace(features, values) ??
    againstClass(best, { self, listed, values }) ??
    againstTie(best, { ranked, values })
  if (refused !== undefined) return ruling('undecided', refused)
  return ruling(best.class, `It is taken for ${best.name} (${best.class}): it fits by ${figure(best)}.`)
}

/** Like a crack in everything: relevant, unless it is as much like something listed that only more than this tells from one. */
function crackLike(
  best: Weighing,
  { ranked, listed, values }: { readonly ranked: readonly Weighing[] } & Omit<Court, 'self'>
) {
  const twin = ranked.find(
    ({ cause, score }) =>
      cause.never !== undefined &&
      isListed(cause, listed) &&
      score > best.score - values.margin &&
      score >= values.clear
  )
  if (twin === undefined)
    return ruling('relevant', 'Angle, lobe order, width and repeat are those of a crack: it is relevant.')
  return ruling(
    'undecided',
    `It is like a crack (${figure(best)}) and like ${twin.name} (${figure(twin)}): ${twin.cause.never}.`
  )
}

const ruling = (is: Class, sentence: string) => ({
  class: is,
  why: { what: 'ruling', sentence, speaks: 'neither' } satisfies Evidence
})

const figure = ({ score }: Weighing): string => score.toFixed(2)

/** Why a place is not judged by itself. */
function againstPlace({ opposite }: Features, { beside }: Court['values']): string | undefined {
  if (!(opposite > beside)) return undefined
  return `Beside it lies something ${opposite.toFixed(1)} times as strong of the opposite order: it may be a side lobe of that.`
}

/** Why the best cause itself can not be taken. */
function againstClass(best: Weighing, { self, listed, values }: Court): string | undefined {
  const like = `It is most like ${best.name} (${best.class}, ${figure(best)})`
  if (best.score < values.clear) return `Nothing fits well. ${like}.`
  if (best.class === 'relevant') return `${like}, but not in everything.`
  if (best.cause.never !== undefined) return `${like}; ${best.cause.never}.`
  if (!isListed(best.cause, listed)) return `${like}, which the technique does not let be told by phase and shape.`
  if (self.score > best.score - values.margin) return `${like}, but a crack is not clearly beaten (${figure(self)}).`
  return undefined
}

/** Why it can not be told from a cause of another class: one nearly as good. */
function againstTie(
  best: Weighing,
  { ranked, values }: { readonly ranked: readonly Weighing[]; readonly values: Court['values'] }
): string | undefined {
  const rival = ranked.find((one) => one.class !== best.class && one.score > best.score - values.margin)
  if (rival === undefined) return undefined
  return `It is like ${best.name} (${best.class}, ${figure(best)}) and nearly as much like ${rival.name} (${rival.class}, ${figure(rival)}).`
}
