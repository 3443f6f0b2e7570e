import { cos, PI } from '@trueloop/ground/numerics'

export interface Quadrature {
  readonly nodes: Float64Array
  readonly weights: Float64Array
}

/**
 * Nodes and weights of the Gauss-Legendre rule with `count` points on [-1, 1]; exact for polynomials up to degree
 * 2 count - 1. Newton steps from cos(pi (i - 1/4) / (count + 1/2)); weight 2 / ((1 - x^2) P'(x)^2).
 * source: abramowitz-stegun-1964, 25.4.29 and 22.16.6
 */
export function gaussLegendre(count: number): Quadrature {
  const nodes = new Float64Array(count)
  const weights = new Float64Array(count)
  for (let i = 0; i < count; i++) {
    let x = -cos((PI * (i + 0.75)) / (count + 0.5))
    for (let step = 0; step < 6; step++) x -= legendre(count, x) / slope(count, x)
    nodes[i] = x
    weights[i] = 2 / ((1 - x * x) * slope(count, x) * slope(count, x))
  }
  return { nodes, weights }
}

/** Legendre polynomial by its recurrence. source: abramowitz-stegun-1964, 22.7.10 */
function legendre(n: number, x: number): number {
  let before = 1
  let here = n === 0 ? 1 : x
  for (let k = 2; k <= n; k++) {
    const next = ((2 * k - 1) * x * here - (k - 1) * before) / k
    before = here
    here = next
  }
  return here
}

/** Its derivative. source: abramowitz-stegun-1964, 22.8.5 */
const slope = (n: number, x: number): number => (n * (legendre(n - 1, x) - x * legendre(n, x))) / (1 - x * x)

/** The rule on neighboring panels, one after the other. `edges` rise; a panel is the interval between two of them. */
export function onPanels(edges: readonly number[], { nodes, weights }: Quadrature): Quadrature {
  const count = nodes.length
  const x = new Float64Array((edges.length - 1) * count)
  const w = new Float64Array(x.length)
  for (let i = 0; i < x.length; i++) {
    const panel = Math.floor(i / count)
    const half = 0.5 * (edges[panel + 1]! - edges[panel]!)
    x[i] = 0.5 * (edges[panel + 1]! + edges[panel]!) + half * nodes[i % count]!
    w[i] = half * weights[i % count]!
  }
  return { nodes: x, weights: w }
}
