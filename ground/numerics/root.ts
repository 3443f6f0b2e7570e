export interface Between {
  readonly low: number
  readonly high: number
}

const MOST = 200

/**
 * x in [low, high] with f(x) = 0, to rounding, by Brent's method: inverse quadratic or secant steps, bisection where
 * they do not close in. Throws RangeError unless f has unlike signs (or is zero) at the ends. source: brent-1973, 4.3
 */
export function rootBetween(f: (x: number) => number, { low, high }: Between): number {
  let [a, b] = [low, high]
  let [fa, fb] = [f(a), f(b)]
  if (!(fa * fb <= 0)) throw new RangeError(`no change of sign between ${low} (${fa}) and ${high} (${fb})`)
  let [c, fc] = [a, fa]
  let before = b - a
  let last = before
  for (let i = 0; i < MOST; i++) {
    if (fb > 0 === fc > 0) {
      ;[c, fc] = [a, fa]
      before = b - a
      last = before
    }
    if (Math.abs(fc) < Math.abs(fb)) {
      ;[a, fa] = [b, fb]
      ;[b, fb] = [c, fc]
      ;[c, fc] = [a, fa]
    }
    const least = 2 * Number.EPSILON * Math.abs(b) + Number.MIN_VALUE
    const half = 0.5 * (c - b)
    if (fb === 0 || Math.abs(half) <= least) return b
    const step = interpolated({ a, b, c, fa, fb, fc })
    const isGood = Math.abs(2 * step) < Math.min(3 * Math.abs(half), Math.abs(before)) && step * half > 0
    before = isGood ? last : half
    last = isGood ? step : half
    ;[a, fa] = [b, fb]
    b += Math.abs(last) > least ? last : half > 0 ? least : -least
    fb = f(b)
  }
  return b
}

interface Three {
  readonly a: number
  readonly b: number
  readonly c: number
  readonly fa: number
  readonly fb: number
  readonly fc: number
}

/** Step from b: secant where only two places are known, else inverse quadratic. */
function interpolated({ a, b, c, fa, fb, fc }: Three): number {
  const s = fb / fa
  if (a === c) return ((b - c) * s) / (1 - s)
  const q = fa / fc
  const r = fb / fc
  return (s * ((b - c) * q * (q - r) + (b - a) * (r - 1))) / ((q - 1) * (r - 1) * (s - 1))
}
