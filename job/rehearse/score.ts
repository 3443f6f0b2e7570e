import { degreesApart, type Nuisance, type TrueFlaw, type Truth } from './truth.ts'

/**
 * The one definition of found, falsely called, caught and voided. Trial, practice and trials of capability share it.
 *
 * A call is an indication proposed as relevant or left undecided. A flaw is found by a call within 25° of its angle and
 * within 0.8 mm of its extent in depth; one call finds one flaw. A call is false that is not within 45° and 1.5 mm of any
 * flaw. "Damage, not a crack" is no call: it never finds a flaw, and is false unless damage (a scratch, galling, chatter,
 * a pit, fretting, a burr) is really there, within the same 45° and 1.5 mm. False calls are counted in holes without a
 * fault of the equipment.
 */
export const limits = { found_deg: 25, found_mm: 0.8, false_deg: 45, false_mm: 1.5 } as const

export interface Call {
  readonly verdict: 'relevant' | 'undecided' | 'damage'
  readonly angle_deg: number
  readonly z_mm: number
  readonly size: CalledSize
  readonly length_mm?: number
}

/** What was said of the depth: a value, bounds (either may be open), or nothing. */
export type CalledSize =
  | { readonly kind: 'value'; readonly depth_mm: number }
  | { readonly kind: 'bounds'; readonly least_mm?: number; readonly most_mm?: number }
  | { readonly kind: 'withheld' }

/** Grounds on which a hole counts as not examined on its own signal. */
export type Ground =
  | 'no contact'
  | 'air step'
  | 'wall signal'
  | 'dead channel'
  | 'clipped'
  | 'offset'
  | 'noise'
  | 'other'

export interface HoleOutcome {
  readonly hole: string
  readonly truth: Pick<Truth, 'flaws' | 'nuisances' | 'fault'>
  readonly calls: readonly Call[]
  /** empty where the hole counts as examined */
  readonly notExamined: readonly Ground[]
}

/** Least and greatest depth of the notches of each kind: only depths between them are scored as values. */
export interface NotchRange {
  readonly least_mm: number
  readonly most_mm: number
}

export interface Rules {
  readonly ranges: Readonly<Record<TrueFlaw['place'], NotchRange>>
}

/** Counts over the holes; a mean absolute error over nothing is absent. */
export interface Score {
  readonly flaws: number
  readonly found: number
  /** holes without a fault of the equipment: in these a false call can happen */
  readonly holes: number
  readonly falselyCalledHoles: number
  readonly falselyCalled: readonly string[]
  /** undecided calls at no flaw, in holes without a fault */
  readonly undecidedElsewhere: number
  /** holes without a fault that count as not examined all the same */
  readonly soundNotExamined: readonly string[]
  readonly faults: number
  readonly faultsCaught: number
  readonly depthMae_mm?: number
  readonly depthScored: number
  readonly lengthMae_mm?: number
  readonly lengthScored: number
  readonly bounds: number
  readonly boundsTrue: number
}

/** The score of a job's holes. Does not depend on the order of holes or calls. */
export function score(outcomes: readonly HoleOutcome[], rules: Rules): Score {
  const sound = outcomes.filter(({ truth }) => truth.fault === 'none')
  const faulty = outcomes.filter(({ truth }) => truth.fault !== 'none')
  const finds = outcomes.flatMap(findsOf)
  const called = sound.filter((outcome) => outcome.calls.some((call) => isFalse(call, outcome.truth)))
  return {
    flaws: outcomes.reduce((sum, { truth }) => sum + truth.flaws.length, 0),
    found: finds.length,
    holes: sound.length,
    falselyCalledHoles: called.length,
    falselyCalled: called.map(({ hole }) => hole),
    undecidedElsewhere: sound.reduce((sum, outcome) => sum + undecidedElsewhere(outcome), 0),
    soundNotExamined: sound.filter(({ notExamined }) => notExamined.length > 0).map(({ hole }) => hole),
    faults: faulty.length,
    faultsCaught: faulty.filter(isCaught).length,
    ...sizeScore(finds, rules)
  }
}

/** A flaw and the call that finds it. */
export interface Find {
  readonly flaw: TrueFlaw
  readonly call: Call
}

/** As many flaws as can be found with one call each; where there is a choice, the call nearest in angle. */
export function findsOf({ truth, calls }: Pick<HoleOutcome, 'truth' | 'calls'>): readonly Find[] {
  const able = calls.filter(({ verdict }) => verdict !== 'damage')
  const finder = new Map<Call, TrueFlaw>()
  for (const flaw of truth.flaws) assign(flaw, { able, finder, tried: new Set() })
  return [...finder].map(([call, flaw]) => ({ flaw, call }))
}

interface Matching {
  readonly able: readonly Call[]
  readonly finder: Map<Call, TrueFlaw>
  readonly tried: Set<Call>
}

/** One augmenting path of a bipartite matching: a call already taken is freed if its flaw can be found by another. */
function assign(flaw: TrueFlaw, matching: Matching): boolean {
  const { able, finder, tried } = matching
  for (const call of nearestFirst(flaw, able)) {
    if (tried.has(call)) continue
    tried.add(call)
    const holder = finder.get(call)
    if (holder !== undefined && !assign(holder, matching)) continue
    finder.set(call, flaw)
    return true
  }
  return false
}

const nearestFirst = (flaw: TrueFlaw, calls: readonly Call[]): readonly Call[] =>
  calls.filter((call) => isFoundBy(flaw, call)).sort((a, b) => distance(flaw, a) - distance(flaw, b) || a.z_mm - b.z_mm)

const distance = (flaw: TrueFlaw, call: Call): number => degreesApart(flaw.angle_deg, call.angle_deg)

/** Damage to the wall; "damage, not a crack" at one of these is right. */
const damages: readonly Nuisance['kind'][] = ['scratch', 'galled patch', 'chatter', 'pit', 'fretting', 'burr']

const within = (call: Spot, extent: Extent, reach: { readonly deg: number; readonly mm: number }): boolean => {
  const { angle_deg, z0_mm, z1_mm } = extent
  const around = angle_deg === undefined || degreesApart(angle_deg, call.angle_deg) <= reach.deg
  const below = z0_mm === undefined || call.z_mm >= z0_mm - reach.mm
  const above = z1_mm === undefined || call.z_mm <= z1_mm + reach.mm
  return around && below && above
}

type Spot = Pick<Call, 'angle_deg' | 'z_mm'>
type Extent = Pick<Nuisance, 'angle_deg' | 'z0_mm' | 'z1_mm'>

/** Whether a spot lies at something that is there, by the limits for finding or for being false. */
export const reaches = (spot: Spot, extent: Extent, kind: 'found' | 'false'): boolean =>
  within(spot, extent, { deg: limits[`${kind}_deg`], mm: limits[`${kind}_mm`] })

/** Whether the call lies where it finds the flaw; bounds included. */
export const isFoundBy = (flaw: TrueFlaw, call: Call): boolean =>
  call.verdict !== 'damage' && reaches(call, flaw, 'found')

/** Whether a call (or a "damage, not a crack") is false in a hole with this truth. */
export function isFalse(call: Call, truth: HoleOutcome['truth']): boolean {
  if (call.verdict !== 'damage') return !truth.flaws.some((flaw) => reaches(call, flaw, 'false'))
  const damage = truth.nuisances.filter(({ kind }) => damages.includes(kind))
  return !damage.some((one) => reaches(call, one, 'false'))
}

const undecidedElsewhere = ({ calls, truth }: HoleOutcome): number =>
  calls.filter((call) => call.verdict === 'undecided' && isFalse(call, truth)).length

/** Grounds that fit a fault: what the fault does to the signal of the hole itself. */
const fitting: Readonly<Record<Exclude<Truth['fault'], 'none'>, readonly Ground[]>> = {
  'gain change': ['air step', 'wall signal'],
  'in air': ['no contact', 'air step', 'wall signal'],
  'dead channel': ['dead channel', 'air step', 'wall signal', 'no contact'],
  'half open': ['air step', 'wall signal'],
  'intermittent cable': ['wall signal', 'dead channel', 'no contact', 'air step'],
  clipped: ['clipped', 'air step'],
  'offset drift': ['offset', 'air step']
}

/** Whether a fault was caught: the hole counts as not examined, on a ground that fits. */
export function isCaught({ truth, notExamined }: Pick<HoleOutcome, 'truth' | 'notExamined'>): boolean {
  const { fault } = truth
  return fault !== 'none' && notExamined.some((ground) => fitting[fault].includes(ground))
}

type SizeScore = Pick<Score, 'depthMae_mm' | 'depthScored' | 'lengthMae_mm' | 'lengthScored' | 'bounds' | 'boundsTrue'>

/**
 * A value counts towards the mean error where the true depth lies inside the range of the notches of its kind; outside it a
 * bound is due, and a value there is a bound that is not true. Withheld sizes count nowhere.
 */
function sizeScore(finds: readonly Find[], { ranges }: Rules): SizeScore {
  const depths: number[] = []
  const truths: boolean[] = []
  for (const { flaw, call } of finds) {
    if (call.size.kind === 'bounds') truths.push(isTrueOf(call.size, flaw))
    else if (call.size.kind === 'value' && isInside(flaw, ranges[flaw.place]))
      depths.push(Math.abs(call.size.depth_mm - flaw.depth_mm))
    else if (call.size.kind === 'value') truths.push(false)
  }
  const lengths = finds.flatMap(({ flaw, call }) =>
    call.length_mm === undefined ? [] : [Math.abs(call.length_mm - flaw.length_mm)]
  )
  return {
    ...(depths.length > 0 ? { depthMae_mm: mean(depths) } : {}),
    depthScored: depths.length,
    ...(lengths.length > 0 ? { lengthMae_mm: mean(lengths) } : {}),
    lengthScored: lengths.length,
    bounds: truths.length,
    boundsTrue: truths.filter((is) => is).length
  }
}

const isTrueOf = ({ least_mm, most_mm }: Extract<CalledSize, { kind: 'bounds' }>, { depth_mm }: TrueFlaw): boolean =>
  (least_mm === undefined || depth_mm >= least_mm) && (most_mm === undefined || depth_mm <= most_mm)

const isInside = ({ depth_mm }: TrueFlaw, { least_mm, most_mm }: NotchRange): boolean =>
  depth_mm >= least_mm && depth_mm <= most_mm

const mean = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length

/** What was done in a job, in order: standardizing, checking, examining a hole. */
export type Step =
  | { readonly kind: 'standardized' }
  | { readonly kind: 'recheck'; readonly good: boolean }
  | { readonly kind: 'hole'; readonly hole: string }

/**
 * Holes that a failed recheck voids: all since the last good check (ISO 15549:2019, 10.2), and all after it until the
 * equipment is standardized again.
 */
export function voidedHoles(steps: readonly Step[]): readonly string[] {
  const voided: string[] = []
  let since: string[] = []
  let isGood = true
  for (const step of steps) {
    if (step.kind === 'hole') {
      if (isGood) since.push(step.hole)
      else voided.push(step.hole)
      continue
    }
    const passes: boolean = step.kind === 'standardized' || (isGood && step.good)
    if (!passes) voided.push(...since)
    since = []
    isGood = passes
  }
  return voided
}
