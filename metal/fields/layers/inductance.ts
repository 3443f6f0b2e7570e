import { expm1, PI } from '@trueloop/ground/numerics'
import type { Result } from '@trueloop/ground/refusal'
import type { FieldsCode } from '../codes.ts'
import { MU0 } from '../vacuum.ts'
import { type Coil, coilComplaint } from './coil.ts'
import { waveNumbers } from './grid.ts'
import { radialMoments } from './moment.kernel.ts'
import { turnDensity } from './probe.ts'

/**
 * Inductance of a coil in air, in H:
 * L0 = 2 mu0 pi N^2 / (w l)^2 integral of C^2 / alpha^2 (alpha l + exp(-alpha l) - 1) d alpha from 0 to infinity, cut at
 * A = max(4000 / r2, 400 / (r2 - r1), 400 / l); beyond it C^2 averages (r1 + r2) / (pi alpha^3), which leaves
 * (r1 + r2) / pi (l / (3 A^3) - 1 / (4 A^4)). Symbols as at coaxialProbe. Low frequency: no skin effect in the wire.
 * Refuses: fields/bad-coil, fields/coil-too-thin. source: dodd-deeds-1968, coil in air
 */
export function inductance_H(coil: Coil): Result<number, FieldsCode> {
  const bad = coilComplaint(coil)
  if (bad !== undefined) return bad
  const { innerRadius: r1, outerRadius: r2, length } = coil
  const { nodes, weights } = waveNumbers(PI / (2 * r2), Math.max(4000 / r2, 400 / (r2 - r1), 400 / length))
  const moments = radialMoments(nodes, r1, r2)
  let sum = tail(coil, lastEdge(r2, nodes))
  for (let i = 0; i < nodes.length; i++) {
    const ratio = moments[i]! / nodes[i]!
    sum += weights[i]! * ratio * ratio * (nodes[i]! * length + expm1(-nodes[i]! * length))
  }
  return 2 * MU0 * PI * turnDensity(coil) * turnDensity(coil) * sum
}

/** Where the panels end: the whole number of widths above the last node. */
const lastEdge = (r2: number, nodes: Float64Array): number => {
  const width = PI / (2 * r2)
  return width * Math.ceil(nodes[nodes.length - 1]! / width)
}

const tail = ({ innerRadius, outerRadius, length }: Coil, end: number): number =>
  ((innerRadius + outerRadius) / PI) * (length / (3 * end * end * end) - 1 / (4 * end * end * end * end))
