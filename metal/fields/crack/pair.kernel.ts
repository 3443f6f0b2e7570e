import { PI } from '@trueloop/ground/numerics'
import { besselOrders } from '../bessel-orders.kernel.ts'
import { gaussLegendre, onPanels, type Quadrature } from '../gauss.ts'
import type { Coil } from '../layers/coil.ts'
import { type ComplexTable, complexTable } from './dipole.kernel.ts'
import type { DepthSpectrum } from './incident.kernel.ts'

/** Harmonics around its axis by which a pair is described: n = 1, 3 ... 17. */
export const HARMONICS = 9
const LAST = 2 * HARMONICS
/** One panel of 16 points integrates r J_n(k r) over 12 rad to 1e-15 of its size. */
const PANEL = 12
const rule = gaussLegendre(16)
const j = new Float64Array(LAST + 1)

/**
 * a_n S_n(k) k / 2 of a pair in opposition, [wave number * HARMONICS + harmonic], m: S_n the integral of r J_n(k r) dr from 0
 * to the radius of a turn, the mean over the turns; a_n = 4 (-1)^((n - 1) / 2) / (pi n), n odd, the series of +1 on one
 * half of the circle and -1 on the other. All turns of one pick-up share their straight side.
 */
export function pairShares(k: Float64Array, { innerRadius, outerRadius }: Coil): Float64Array {
  const shares = new Float64Array(k.length * HARMONICS)
  for (let i = 0; i < k.length; i++) {
    const { nodes, weights } = turnsRule(k[i]!, innerRadius, outerRadius)
    const from = i * HARMONICS
    for (let at = 0; at < nodes.length; at++) {
      besselOrders(k[i]! * nodes[at]!, LAST, j)
      for (let h = 0; h < HARMONICS; h++) shares[from + h]! += weights[at]! * j[2 * h + 1]!
    }
    for (let h = 0; h < HARMONICS; h++) {
      const n = 2 * h + 1
      shares[from + h]! *= (0.5 * k[i]! * (h % 2 === 0 ? 4 : -4)) / (PI * n)
    }
  }
  return shares
}

/** Weights r times the part of the turns that lie outside of r. */
function turnsRule(k: number, inner: number, outer: number): Quadrature {
  const edges = inner > 0 ? [...edgesOf(0, inner, k).slice(0, -1), ...edgesOf(inner, outer, k)] : edgesOf(0, outer, k)
  const { nodes, weights } = onPanels(edges, rule)
  const part = (r: number) => (r <= inner ? 1 : (outer - r) / (outer - inner))
  return { nodes, weights: weights.map((w, at) => w * nodes[at]! * part(nodes[at]!)) }
}

function edgesOf(from: number, to: number, k: number): number[] {
  const count = Math.ceil((k * (to - from)) / PANEL)
  return Array.from({ length: count + 1 }, (_, i) => from + ((to - from) * i) / count)
}

/**
 * Integral over k of the depth spectrum times share times J_(n - 1)(k r), then the same with J_(n + 1), for each harmonic:
 * [radius, 2 harmonics, row], Wb/m.
 */
export function pairTable(
  radii: Float64Array,
  { k, shares }: { readonly k: Float64Array; readonly shares: Float64Array },
  { spectrum, ends, deep }: DepthSpectrum
): ComplexTable {
  const table = complexTable(radii.length * LAST * deep)
  for (let r = 0; r < radii.length; r++) {
    for (let i = 0; i < k.length; i++) {
      const end = ends[i]!
      if (end === 0) continue
      besselOrders(k[i]! * radii[r]!, LAST, j)
      const from = i * deep
      for (let h = 0; h < LAST; h++) {
        // order n - 1 = h for even h; order n + 1 = h + 1 for odd h
        const part = shares[i * HARMONICS + Math.floor(h / 2)]! * j[h + (h % 2)]!
        const to = (r * LAST + h) * deep
        for (let row = 0; row < end; row++) {
          table.re[to + row]! += part * spectrum.re[from + row]!
          table.im[to + row]! += part * spectrum.im[from + row]!
        }
      }
    }
  }
  return table
}

/** One column of cells: which points of the table it lies between, and what each harmonic counts for there. */
export interface PairColumn {
  readonly start: number
  readonly weights: Float64Array
  readonly turns: Float64Array
  /** rad/s. */
  readonly omega: number
  readonly to: number
}

/** Adds -j omega times the table, interpolated and turned, to a column of the field, row by row. */
export function addColumn(
  { table, deep }: { readonly table: ComplexTable; readonly deep: number },
  { start, weights, turns, omega, to }: PairColumn,
  field: ComplexTable
): void {
  for (let w = 0; w < weights.length; w++) {
    for (let h = 0; h < LAST; h++) {
      const part = omega * weights[w]! * turns[h]!
      const from = ((start + w) * LAST + h) * deep
      for (let row = 0; row < deep; row++) {
        field.re[to + row]! += part * table.im[from + row]!
        field.im[to + row]! -= part * table.re[from + row]!
      }
    }
  }
}
