import { exp, log } from '@trueloop/ground/numerics'
import type { Behind } from './behind.ts'
import type { Form } from './forms.ts'
import type { Sizing } from './parameters.ts'
import { leastOf, lowestBeside } from './picks.ts'

/**
 * What the notches teach of the answer over the middle of a flaw: full · part(depth, length; scale), by one form. Two
 * numbers, `full` and `scale`, from notches of any proportions.
 */
export interface NotchLaw {
  readonly form: Form
  readonly full: number
  readonly scale: number
  readonly spread: Spread
  /** scatter of one notch about the law, share of its answer: as declared, or more where these notches show more */
  readonly scatter: number
  /** chi-square of the notches, the same with the logarithms of their variances, and how many there are */
  readonly misfit: number
  readonly deviance: number
  readonly notches: number
  /** root mean square of (answer − law)/law over the notches, each weighed by how well it is known */
  readonly off: number
}

/** Covariance of `full` and `scale`, raised where the notches scatter by more than they should. */
export interface Spread {
  readonly ff: number
  readonly fs: number
  readonly ss: number
}

/** A notch of certified depth, and what lies behind its rows at its certified length. */
export interface Taught {
  readonly depth_mm: number
  readonly behind: Behind
  /** largest answer of the others at its depth in the hole, whose tails it may stand in */
  readonly beside: number
}

interface Point {
  readonly depth_mm: number
  readonly behind: Behind
  readonly size: number
  readonly beside: number
  readonly weight: number
}

/** What notches scatter by about a law: a share of their own answer, and a share of the largest beside them. */
interface Scatter {
  readonly own: number
  readonly tails: number
}

/**
 * Scatters looked at. Whatever the band takes out of a strong signal lies around the whole revolution as a low tail, so that
 * a small notch between large ones answers more or less by some percent of those.
 */
const OWN = [1, 1.5, 2.25, 3.4, 5]
const TAILS = [0, 0.01, 0.02, 0.035, 0.06, 0.1]

/** Scales looked at, as multiples of that of the largest notch: at the largest the curve is straight. */
const LEAST_SCALE = 0.05
const MOST_SCALE = 5
const STEPS = 100
const COARSE = 5

/**
 * Weighted least squares: for each scale the best `full`, and the scale of the least misfit; with the scatter, no less than
 * declared, that makes the notches likeliest, two numbers of the law being fitted to them (restricted likelihood).
 */
export function lawOf(
  notches: readonly Taught[],
  form: Form,
  { notchScatter }: Pick<Sizing, 'notchScatter'>
): NotchLaw {
  let best: { readonly law: NotchLaw; readonly restricted: number } | undefined
  const scales = scalesFor(notches, form)
  for (const tails of TAILS) {
    for (const times of OWN) {
      const one = lawWith(notches, scales, { own: times * notchScatter, tails })
      if (best === undefined || one.restricted < best.restricted - ENOUGH) best = one
    }
  }
  return best!.law
}

/** By less than this the likelihood does not speak for more scatter: half of what one number more gains by chance. */
const ENOUGH = 0.5

function lawWith(notches: readonly Taught[], scales: Scales, scatter: Scatter) {
  const { form } = scales
  const points = notches.map((one) => pointOf(one, scatter))
  const scale = scaleOf(scales, (parts) => misfitOf(points, parts))
  const { full, misfit } = fullAt(points, form, scale)
  const deviance = points.reduce((sum, { weight }) => sum - log(weight), misfit)
  const scaled = { form, full, scale, misfit }
  const { spread, information } = spreadOf(points, scaled)
  const law = { ...scaled, deviance, scatter: scatter.own, notches: points.length, off: offOf(points, scaled), spread }
  return { law, restricted: deviance + log(information) }
}

function pointOf({ depth_mm, behind, beside }: Taught, { own, tails }: Scatter): Point {
  const size = Math.abs(behind.y)
  const [mine, theirs] = [own * size, tails * beside]
  return { depth_mm, behind, size, beside, weight: 1 / (behind.yy + mine * mine + theirs * theirs) }
}

/** Scales looked at, and what part of the full answer each notch gives at each of them, found as it is asked for. */
interface Scales {
  readonly form: Form
  readonly logs: Float64Array
  readonly partsAt: (i: number) => Float64Array
}

function scalesFor(notches: readonly Taught[], form: Form): Scales {
  const largest = Math.max(...notches.map(({ depth_mm, behind }) => form.measure(depth_mm, behind.length_mm)))
  const step = log(MOST_SCALE / LEAST_SCALE) / STEPS
  const first = log(LEAST_SCALE * largest)
  const logs = Float64Array.from({ length: STEPS + 1 }, (_, i) => first + step * i)
  const known: Float64Array[] = []
  const partsAt = (i: number) => {
    known[i] ??= Float64Array.from(notches, ({ depth_mm, behind }) => form.at(depth_mm, exp(logs[i]!))(behind).part)
    return known[i]
  }
  return { form, logs, partsAt }
}

/** Scale of the least misfit: every fifth first, then those around the best of them, then the parabola between. */
function scaleOf({ logs, partsAt }: Scales, misfitAt: (parts: Float64Array) => number): number {
  const misfits = new Float64Array(STEPS + 1).fill(Number.POSITIVE_INFINITY)
  const look = (i: number) => {
    if (misfits[i] === Number.POSITIVE_INFINITY) misfits[i] = misfitAt(partsAt(i))
  }
  for (let i = 0; i <= STEPS; i += COARSE) look(i)
  const [from, to] = around(leastOf(misfits))
  for (let i = from; i <= to; i++) look(i)
  return exp(lowestBeside(logs, misfits, leastOf(misfits.subarray(from, to + 1)) + from))
}

const around = (i: number): readonly [number, number] => [Math.max(0, i - COARSE), Math.min(STEPS, i + COARSE)]

function fullAt(points: readonly Point[], form: Form, scale: number): Full {
  return fullBy(
    points,
    Float64Array.from(points, ({ depth_mm, behind }) => form.at(depth_mm, scale)(behind).part)
  )
}

interface Full {
  readonly full: number
  readonly misfit: number
}

const misfitOf = (points: readonly Point[], parts: Float64Array): number => fullBy(points, parts).misfit

function fullBy(points: readonly Point[], parts: Float64Array): Full {
  let [xx, xy, yy] = [0, 0, 0]
  for (let k = 0; k < points.length; k++) {
    const { size, weight } = points[k]!
    const part = parts[k]!
    xx += weight * part * part
    xy += weight * part * size
    yy += weight * size * size
  }
  return { full: xy / xx, misfit: Math.max(0, yy - (xy * xy) / xx) }
}

/** A law has two numbers: what its notches scatter by over what they should, where that is more. */
const raisedBy = (misfit: number, notches: number): number => Math.max(1, misfit / Math.max(1, notches - 2))

type Scaled = Pick<NotchLaw, 'form' | 'full' | 'scale' | 'misfit'>

function offOf(points: readonly Point[], { form, full, scale }: Scaled): number {
  let [squares, weights] = [0, 0]
  for (const { depth_mm, behind, size, weight } of points) {
    const expected = full * form.at(depth_mm, scale)(behind).part
    squares += weight * (size - expected) * (size - expected)
    weights += weight * expected * expected
  }
  return Math.sqrt(squares / weights)
}

/** Below this share of the product of its diagonal, the determinant is rounding: the scale is then taken as known. */
const SINGULAR = 1e-9

interface Informed {
  readonly spread: Spread
  /** determinant of what the notches tell of both numbers, relative to the numbers themselves */
  readonly information: number
}

function spreadOf(points: readonly Point[], { form, full, scale, misfit }: Scaled): Informed {
  const raised = raisedBy(misfit, points.length)
  let [ff, fs, ss] = [0, 0, 0]
  for (const { depth_mm, behind, weight } of points) {
    const { part, slope } = form.at(depth_mm, scale)(behind)
    ff += weight * part * part
    fs += weight * part * full * slope
    ss += weight * full * slope * full * slope
  }
  const determinant = ff * ss - fs * fs
  if (!(determinant > SINGULAR * ff * ss)) {
    return { spread: { ff: raised / ff, fs: 0, ss: 0 }, information: full * full * ff }
  }
  const one = raised / determinant
  return {
    spread: { ff: one * ss, fs: -one * fs, ss: one * ff },
    information: full * full * scale * scale * determinant
  }
}

/** A law and how much it weighs beside the others. */
export interface Weighed {
  readonly law: NotchLaw
  readonly weight: number
}

/** Laws of several forms on the same notches: each weighs by its likelihood; the weights add to 1. */
export function weighed(laws: readonly NotchLaw[]): readonly Weighed[] {
  const least = Math.min(...laws.map(({ deviance }) => deviance))
  const likelihoods = laws.map(({ deviance }) => exp(-0.5 * (deviance - least)))
  const total = likelihoods.reduce((sum, one) => sum + one, 0)
  return laws.map((law, i) => ({ law, weight: likelihoods[i]! / total }))
}
