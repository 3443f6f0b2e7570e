import { exp, PI, sin } from '@trueloop/ground/numerics'
import { meters } from '@trueloop/ground/quantity'
import type { Result } from '@trueloop/ground/refusal'
import type { FieldsCode } from '../codes.ts'
import { gaussLegendre, onPanels } from '../gauss.ts'
import type { Coil } from '../layers/coil.ts'
import { turnDensity } from '../layers/probe.ts'
import { type CoaxialCoil, coaxialComplaint } from './coil.ts'
import { holeWaveNumbers } from './grid.ts'
import type { HoleProbe } from './impedance.ts'
import { ratiosOfI, scaledI0 } from './modified.kernel.ts'

const CUT = 40
const rule = gaussLegendre(24)
const first = new Float64Array(2)

/**
 * A coil on the axis of a hole; only m = 0 is there: f(k) = N / (w l) 2 pi (2 / k) sin(k l / 2) times the integral of
 * s I_1(k s) ds over the winding, by I_0(k b). Symbols and what holds as at radialProbe.
 * Refuses: as coaxialComplaint. Derived anew. source: burke-theodoulidis-2004
 */
export function coaxialInHole(placed: CoaxialCoil): Result<HoleProbe, FieldsCode> {
  const bad = coaxialComplaint(placed)
  if (bad !== undefined) return bad
  const { coil, holeDiameter } = placed
  const radius = 0.5 * holeDiameter
  const end = CUT / (2 * (radius - coil.outerRadius))
  const { nodes, weights } = holeWaveNumbers({ first: 1 / radius, end, widest: 10 / coil.length })
  const squares = Array.from(nodes, (k, i) => {
    const f = (turnDensity(coil) * 4 * PI * moment(k, coil, radius) * sin(0.5 * k * coil.length)) / k
    return Float64Array.of(weights[i]! * f * f)
  })
  return { radius: meters(radius), k: nodes, squares }
}

/** Integral of s I_1(k s) / I_0(k b) over the winding, m^2. */
function moment(k: number, { innerRadius, outerRadius }: Coil, radius: number): number {
  const width = outerRadius - innerRadius
  const count = 1 + Math.ceil((k * width) / 30)
  const edges = Array.from({ length: count + 1 }, (_, i) => innerRadius + (width * i) / count)
  const { nodes, weights } = onPanels(edges, rule)
  let sum = 0
  for (let i = 0; i < nodes.length; i++) {
    const s = nodes[i]!
    ratiosOfI(k * s, 1, first)
    sum += weights[i]! * s * first[1]! * scaledI0(k * s) * exp(k * (s - radius))
  }
  return sum / scaledI0(k * radius)
}
