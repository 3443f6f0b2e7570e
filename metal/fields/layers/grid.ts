import { gaussLegendre, onPanels, type Quadrature } from '../gauss.ts'

const rule = gaussLegendre(24)
/**
 * The first panel is cut to a quarter nine times. A reflection that changes at 1 / 2^18 of its width is so resolved; its
 * branch points and poles stand at 45 degrees or more from the axis, where 24 points on a panel from a to 4 a give 1e-16.
 */
const QUARTERINGS = 9

/**
 * Nodes and weights for an integral over wave numbers from 0 to `end` (1/m): panels of the given width with 24 points,
 * the first one cut smaller towards zero, where thick or weakly conducting layers still change.
 */
export function waveNumbers(width: number, end: number): Quadrature {
  const edges = [0]
  for (let k = QUARTERINGS, part = width / 262_144; k > 0; k--, part *= 4) edges.push(part)
  const count = Math.ceil(end / width)
  for (let k = 1; k <= count; k++) edges.push(k * width)
  return onPanels(edges, rule)
}
