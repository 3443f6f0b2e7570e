import { normalCumulative, normalDensity, normalQuantile } from './distribution.ts'
import { exp, log } from './elementary.ts'
import { checkShape, checkShare, type TailShare } from './incomplete.ts'
import { poissonMass } from './mass.ts'
import { rootOnLine, type ShareAt } from './share-root.ts'

/** (Z + shift)/sqrt(chi-square/dof): Student's t about a mean that is `shift` standard errors from zero. */
export interface NoncentralT {
  readonly dof: number
  readonly shift: number
}

/** Beyond it the sum would take too many terms. */
const FARTHEST = 1e5

function check({ dof, shift }: NoncentralT): void {
  checkShape('the degrees of freedom', dof)
  if (!(Math.abs(shift) <= 1e4)) throw new RangeError(`the shift lies within 1e4 of zero, not at ${shift}`)
}

/**
 * Share and density at t as the integral over u = log s, s the ratio of the standard deviation found to the true one:
 * share = ∫ Phi(t s - shift) g(u) du, density = ∫ phi(t s - shift) s g(u) du, g the density of u, by the trapezoidal
 * rule, which converges exponentially on such integrands. All terms are positive and have one maximum, so that both
 * tails keep their digits and the sum may stop on each side.
 * source: owen-1968; trefethen-weideman-2014
 */
function lowerTail(t: number, { dof, shift }: NoncentralT): ShareAt {
  if (t * t > FARTHEST * FARTHEST)
    throw new RangeError(`a non-central t is taken within ${FARTHEST} of zero, not at ${t}`)
  const step = Math.min(0.1, 0.3 / Math.sqrt(2 * dof + t * t + shift * shift))
  const first = Math.round(log(likelySpread(t, { dof, shift })) / step)
  const termsAt = (k: number): ShareAt => {
    const s = exp((first + k) * step)
    const weight = dof * poissonMass(0.5 * dof, 0.5 * dof * s * s)
    const z = t * s - shift
    return { share: weight * normalCumulative(z), slope: weight * s * normalDensity(z) }
  }
  const right = oneSide(termsAt, 1)
  const left = oneSide(termsAt, -1)
  const middle = termsAt(0)
  const total = (a: number, b: number, c: number): number => step * (a + b + c)
  return {
    share: total(middle.share, left.share, right.share),
    slope: total(middle.slope, left.slope, right.slope)
  }
}

/** s near which the integrand of a far tail has its maximum: that of exp(-dof (s - 1)^2 - (t s - shift)^2/2). */
function likelySpread(t: number, { dof, shift }: NoncentralT): number {
  return t >= shift ? 1 : Math.max(0.01, (2 * dof + t * shift) / (2 * dof + t * t))
}

/** Sum over k = side, 2 side, … until terms fall and no longer count. */
function oneSide(termsAt: (k: number) => ShareAt, side: 1 | -1): ShareAt {
  let share = 0
  let slope = 0
  let last = termsAt(0)
  for (let k = side; ; k += side) {
    const term = termsAt(k)
    share += term.share
    slope += term.slope
    if (isSpent(term.share, last.share, share) && isSpent(term.slope, last.slope, slope)) return { share, slope }
    last = term
  }
}

const isSpent = (term: number, last: number, sum: number): boolean => term <= last && term <= 1e-18 * sum

/**
 * P(T <= t); relative error below 1e-11, checked in both tails down to 1e-28. dof in (0, 1e10], |shift| <= 1e4,
 * |t| <= 1e5 or infinite (RangeError outside); the work grows with sqrt(dof + t² + shift²) where dof is small. source: owen-1968
 */
export function noncentralTCumulative(t: number, law: NoncentralT): number {
  check(law)
  if (!(Math.abs(t) < Number.POSITIVE_INFINITY)) return t > 0 ? 1 : t < 0 ? 0 : Number.NaN
  return lowerTail(t, law).share
}

/** P(T > t), the upper tail with its own digits: -T is a non-central t of the opposite shift. */
export const noncentralTSurvival = (t: number, { dof, shift }: NoncentralT): number =>
  noncentralTCumulative(-t, { dof, shift: -shift })

/**
 * t with the share below it ('lower') or above it ('upper'): Newton steps on the logarithm of the smaller share inside a
 * bracket. Throws RangeError outside [0, 1]. source: owen-1968
 */
export function noncentralTQuantile({ tail, share }: TailShare, law: NoncentralT): number {
  check(law)
  checkShare(share)
  const { dof, shift } = law
  if (tail === 'upper') return 0 - noncentralTQuantile({ tail: 'lower', share }, { dof, shift: -shift })
  if (share > 0.5) return 0 - noncentralTQuantile({ tail: 'lower', share: 1 - share }, { dof, shift: -shift })
  if (share === 0) return Number.NEGATIVE_INFINITY
  return seek(share, law)
}

function seek(goal: number, law: NoncentralT): number {
  const at = (t: number): ShareAt => lowerTail(t, law)
  const start = law.shift + normalQuantile(goal)
  let width = 1
  while (at(start - width).share > goal) width *= 4
  const low = start - width
  width = 1
  while (at(start + width).share < goal) width *= 4
  return rootOnLine({ goal, start, rises: true, at }, { low, high: start + width })
}
