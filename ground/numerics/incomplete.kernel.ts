const TINY = 1e-300
const ENOUGH = 4e-16
const MOST = 4_000_000

const unsettled = (): RangeError => new RangeError('a series or fraction of an incomplete function did not settle')

/** gamma(a) e^x x^-a P(a, x) = 1/a + x/(a(a + 1)) + … for x < a + 1. source: abramowitz-stegun-1964, 6.5.29 */
export function gammaSeries(a: number, x: number): number {
  let term = 1 / a
  let sum = term
  for (let k = 1; k < MOST; k++) {
    term *= x / (a + k)
    sum += term
    if (term < 1e-17 * sum) return sum
  }
  throw unsettled()
}

/**
 * gamma(a) e^x x^-a Q(a, x) = 1/(x + 1 - a - (1 - a)/(x + 3 - a - 2(2 - a)/…)) forward.
 * source: abramowitz-stegun-1964, 6.5.31; lentz-1976
 */
export function gammaFraction(a: number, x: number): number {
  let b = x + 1 - a
  let c = 1 / TINY
  let d = 1 / away(b)
  let value = d
  for (let k = 1; k < MOST; k++) {
    const numerator = k * (a - k)
    b += 2
    d = 1 / away(numerator * d + b)
    c = away(b + numerator / c)
    value *= d * c
    if (Math.abs(d * c - 1) <= ENOUGH) return value
  }
  throw unsettled()
}

/** A place of a beta law, both distances given so that neither loses digits: x + y = 1. */
export interface Place {
  readonly x: number
  readonly y: number
}

/**
 * I_x(a, b) B(a, b)/(x^a y^b), for x below (a + 1)/(a + b + 2), as the fraction 1/(b0 + a1/(b1 + a2/…)) with
 * am = (a + m - 1)(a + b + m - 1) m (b - m) x^2/(a + 2m - 1)^2 and
 * bm = m + m (b - m) x/(a + 2m - 1) + (a + m)(a y - b x + 1 + m (1 + y))/(a + 2m + 1), forward: no 1 - x is formed.
 * source: didonato-morris-1992, 4; lentz-1976
 */
export function betaFraction(a: number, b: number, { x, y }: Place): number {
  const lead = a * y - b * x + 1
  let value = away((a * lead) / (a + 1))
  let c = value
  let d = 0
  for (let m = 1; m < MOST; m++) {
    const odd = a + 2 * m - 1
    const rest = (m * (b - m) * x) / odd
    const above = (((a + m - 1) * x) / odd) * (a + b + m - 1) * rest
    const below = m + rest + ((a + m) * (lead + m * (1 + y))) / (odd + 2)
    d = 1 / away(below + above * d)
    c = away(below + above / c)
    value *= c * d
    if (Math.abs(c * d - 1) <= ENOUGH) return 1 / value
  }
  throw unsettled()
}

const away = (x: number): number => (Math.abs(x) < TINY ? TINY : x)
