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
  /** chi-square of the notches, and how many there are */
  readonly misfit: number
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
}

interface Point {
  readonly depth_mm: number
  readonly behind: Behind
  readonly size: number
  readonly weight: number
}

/** Scales looked at, as multiples of that of the largest notch: at the largest the curve is straight. */
const LEAST_SCALE = 0.05
const MOST_SCALE = 5
const STEPS = 100
const COARSE = 5

/** Weighted least squares: for each scale the best `full`, and the scale of the least misfit. */
export function lawOf(
  notches: readonly Taught[],
  form: Form,
  { notchScatter }: Pick<Sizing, 'notchScatter'>
): NotchLaw {
  const points = notches.map(({ depth_mm, behind }) => {
    const scatter = notchScatter * behind.y
    return { depth_mm, behind, size: Math.abs(behind.y), weight: 1 / (behind.yy + scatter * scatter) }
  })
  const largest = Math.max(...points.map(({ depth_mm, behind }) => form.measure(depth_mm, behind.length_mm)))
  const scale = scaleOf(LEAST_SCALE * largest, (one) => fullAt(points, form, one).misfit)
  const { full, misfit } = fullAt(points, form, scale)
  const scatter = notchScatter * Math.sqrt(raisedBy(misfit, points.length))
  const law = { form, full, scale, misfit, scatter, notches: points.length }
  return { ...law, off: offOf(points, law), spread: spreadOf(points, law) }
}

/** Scale of the least misfit: every fifth first, then those around the best of them, then the parabola between. */
function scaleOf(least: number, misfitAt: (scale: number) => number): number {
  const step = log(MOST_SCALE / LEAST_SCALE) / STEPS
  const first = log(least)
  const logs = Float64Array.from({ length: STEPS + 1 }, (_, i) => first + step * i)
  const misfits = new Float64Array(STEPS + 1).fill(Number.POSITIVE_INFINITY)
  const look = (i: number) => {
    if (misfits[i] === Number.POSITIVE_INFINITY) misfits[i] = misfitAt(exp(logs[i]!))
  }
  for (let i = 0; i <= STEPS; i += COARSE) look(i)
  const [from, to] = around(leastOf(misfits))
  for (let i = from; i <= to; i++) look(i)
  return exp(lowestBeside(logs, misfits, leastOf(misfits.subarray(from, to + 1)) + from))
}

const around = (i: number): readonly [number, number] => [Math.max(0, i - COARSE), Math.min(STEPS, i + COARSE)]

function fullAt(
  points: readonly Point[],
  form: Form,
  scale: number
): { readonly full: number; readonly misfit: number } {
  let [xx, xy, yy] = [0, 0, 0]
  for (const { depth_mm, behind, size, weight } of points) {
    const { part } = form.at(depth_mm, scale)(behind)
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

function spreadOf(points: readonly Point[], { form, full, scale, misfit }: Scaled): Spread {
  const raised = raisedBy(misfit, points.length)
  let [ff, fs, ss] = [0, 0, 0]
  for (const { depth_mm, behind, weight } of points) {
    const { part, slope } = form.at(depth_mm, scale)(behind)
    ff += weight * part * part
    fs += weight * part * full * slope
    ss += weight * full * slope * full * slope
  }
  const determinant = ff * ss - fs * fs
  if (!(determinant > SINGULAR * ff * ss)) return { ff: raised / ff, fs: 0, ss: 0 }
  return { ff: (raised * ss) / determinant, fs: (-raised * fs) / determinant, ss: (raised * ff) / determinant }
}

/** A law and how much it weighs beside the others. */
export interface Weighed {
  readonly law: NotchLaw
  readonly weight: number
}

/** Laws of several forms on the same notches: each weighs by its likelihood, all scatter raised alike; the weights add to 1. */
export function weighed(laws: readonly NotchLaw[]): readonly Weighed[] {
  const least = Math.min(...laws.map(({ misfit }) => misfit))
  const raised = raisedBy(least, laws[0]!.notches)
  const likelihoods = laws.map(({ misfit }) => exp((-0.5 * (misfit - least)) / raised))
  const total = likelihoods.reduce((sum, one) => sum + one, 0)
  return laws.map((law, i) => ({ law, weight: likelihoods[i]! / total }))
}
