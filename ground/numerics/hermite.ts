import { exp, PI } from './elementary.ts'

/** Nodes and weights for integrals of e^(-t^2) f(t) over the line. */
export interface HermiteRule {
  readonly nodes: Float64Array
  /** weight times e^(t^2): for integrands that carry their own fall */
  readonly weights: Float64Array
}

const GRID = 4000

/**
 * Gauss-Hermite rule of n nodes (2 to 60), exact for polynomials up to degree 2 n - 1: the zeros t of the orthonormal
 * polynomial h_n, weights 1/(n h_(n-1)(t)^2). Throws RangeError for other n. source: abramowitz-stegun-1964, 25.4.46
 */
export function hermiteRule(n: number): HermiteRule {
  if (!(Number.isInteger(n) && n >= 2 && n <= 60)) throw new RangeError(`from 2 to 60 nodes, not ${n}`)
  const reach = Math.sqrt(2 * n + 1)
  const nodes = Array.from({ length: GRID }, (_, i) => -reach + (2 * reach * i) / GRID).flatMap((low) => {
    const high = low + (2 * reach) / GRID
    return polynomial(n, low)[0] * polynomial(n, high)[0] < 0
      ? [zeroIn(n, low, high)]
      : polynomial(n, low)[0] === 0
        ? [low]
        : []
  })
  const weights = nodes.map((t) => {
    const [, before] = polynomial(n, t)
    return exp(t * t) / (n * before * before)
  })
  return { nodes: Float64Array.from(nodes), weights: Float64Array.from(weights) }
}

/** Orthonormal h_n and h_(n-1) at t. */
function polynomial(n: number, t: number): readonly [number, number] {
  let before = 0
  let now = 1 / Math.sqrt(Math.sqrt(PI))
  for (let k = 0; k < n; k++) {
    const next = t * Math.sqrt(2 / (k + 1)) * now - Math.sqrt(k / (k + 1)) * before
    before = now
    now = next
  }
  return [now, before]
}

function zeroIn(n: number, from: number, to: number): number {
  let [low, high] = [from, to]
  const rises = polynomial(n, high)[0] > 0
  for (let i = 0; i < 80; i++) {
    const middle = 0.5 * (low + high)
    if (middle === low || middle === high) return middle
    if (polynomial(n, middle)[0] > 0 === rises) high = middle
    else low = middle
  }
  return 0.5 * (low + high)
}
