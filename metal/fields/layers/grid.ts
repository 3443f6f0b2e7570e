import { gaussLegendre, onPanels, type Quadrature } from '../gauss.ts'

const rule = gaussLegendre(24)
/** Halvings of the first panel: resolves a reflection that changes at 1 / 16 000 of the panel width. */
const HALVINGS = 14

/**
 * Nodes and weights for an integral over wave numbers from 0 to `end` (1/m): panels of the given width with 24 points,
 * the first one halved 14 times towards zero, where thick or weakly conducting layers still change.
 */
export function waveNumbers(width: number, end: number): Quadrature {
  const edges = [0]
  for (let k = HALVINGS, part = width / 16_384; k > 0; k--, part *= 2) edges.push(part)
  const count = Math.ceil(end / width)
  for (let k = 1; k <= count; k++) edges.push(k * width)
  return onPanels(edges, rule)
}
