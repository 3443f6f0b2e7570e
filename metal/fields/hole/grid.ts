import { gaussLegendre, onPanels, type Quadrature } from '../gauss.ts'

const rule = gaussLegendre(12)
/** Halvings of the first panel, for a reaction that changes at small wave numbers. */
const HALVINGS = 14
/** Growth of the panels where the integrand only falls. */
const GROWTH = 0.12

/** How far the wave numbers reach and how fine they must be, 1/m. */
export interface WaveRange {
  readonly first: number
  readonly end: number
  readonly widest: number
}

/** Nodes and weights for an integral over wave numbers along the hole: panels that grow from `first` to `widest`. */
export function holeWaveNumbers({ first, end, widest }: WaveRange): Quadrature {
  const edges = [0]
  const start = Math.min(first, widest)
  for (let k = HALVINGS, part = start / 16_384; k >= 0; k--, part *= 2) edges.push(part)
  for (let edge = start; edge < end; ) {
    edge += Math.min(widest, Math.max(start, GROWTH * edge))
    edges.push(edge)
  }
  return onPanels(edges, rule)
}
