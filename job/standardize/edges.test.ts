/** Oracles: faces that the test put in, levels that it chose; the limits of the technique written out. */
import { isRefusal } from '@trueloop/ground/refusal'
import { describe, expect, it } from 'vitest'
import { UNIT } from '../signal/index.ts'
import { findEdges, type MeanTrace, TRACE_STEP } from './edges.ts'
import { limitsOf, refusedLimit } from './limits.ts'
import type { NotchReading } from './standardization.ts'
import { technique } from './testing/scene.ts'

interface Faces {
  readonly entry: number
  readonly exit: number
  readonly units: number
  readonly before: number
  readonly behind: number
}

/** Straight ramps one revolution long around both faces, as a sliding mean makes them; metal at 0, air along (3, −4)/5. */
function traceOf({ entry, exit, units, before, behind }: Faces): MeanTrace {
  const at = Float64Array.from({ length: (units * UNIT) / TRACE_STEP }, (_, i) => 256 + i * TRACE_STEP)
  const share = (d: number) => Math.min(1, Math.max(0, 0.5 + d / UNIT))
  const air = at.map((n) => before * share(entry - n) + behind * share(n - exit))
  return { at, x: air.map((a) => 0.6 * a), y: air.map((a) => -0.8 * a) }
}

const faces = { entry: 3000.7, exit: 17_345.3, units: 40, before: 2, behind: 2 }
const found = (change: Partial<Faces>) => findEdges(traceOf({ ...faces, ...change }))

describe('findEdges', () => {
  it('finds each face half way between its own air and the metal', () => {
    for (const behind of [2, 1.4, 2.9]) {
      const edges = found({ behind })
      if (isRefusal(edges)) throw new Error(edges.found)
      expect(edges.entry).toBeCloseTo(3000.7, 6)
      expect(edges.exit).toBeCloseTo(17_345.3, 6)
      expect(edges.entryStep.x).toBeCloseTo(1.2, 9)
      expect(edges.exitStep.y).toBeCloseTo(-0.8 * behind, 9)
      expect(edges.step.x).toBeCloseTo(0.6 * (1 + 0.5 * behind), 9)
      expect(Math.hypot(edges.metal.x, edges.metal.y)).toBeLessThan(1e-9)
    }
  })

  it('does not depend on the operating point or the rotation', () => {
    const trace = traceOf(faces)
    const turned = {
      at: trace.at,
      x: trace.x.map((v, i) => 7 - v + 2 * trace.y[i]!),
      y: trace.x.map((v, i) => -3 - 2 * v - trace.y[i]!)
    }
    const edges = findEdges(turned)
    if (isRefusal(edges)) throw new Error(edges.found)
    expect(edges.entry).toBeCloseTo(3000.7, 6)
    expect(edges.exit).toBeCloseTo(17_345.3, 6)
  })

  const code = (change: Partial<Faces>) => {
    const edges = found(change)
    return isRefusal(edges) ? edges.code : 'found'
  }
  it('refuses a scan without a step', () => {
    expect(code({ before: 0, behind: 0 })).toBe('standardize/no-entry-step')
    expect(code({ units: 3 })).toBe('standardize/no-entry-step')
  })
  it('refuses a scan that ends in the metal, or in air that is another', () => {
    expect(code({ exit: 1e6 })).toBe('standardize/no-exit-step')
    expect(code({ behind: 0.9 })).toBe('standardize/no-exit-step')
  })
})

describe('limits', () => {
  const notch = (depth_mm: number, amplitude: number, place = 'mid-bore'): NotchReading => ({
    id: `${place} ${depth_mm}`,
    place,
    depth_mm,
    length_mm: 1,
    amplitude,
    matched: amplitude,
    phase_rad: 0,
    fitted: { x: 0, y: 1 },
    fittedNoise: { x: 0, y: 0 },
    fromLiftOff: { angle_rad: 0.5, repeatability_rad: 0.1, needed_rad: 0.3 },
    angle_rad: 0,
    z_m: 0,
    angleOff_rad: 0.05,
    zOff_m: 0
  })
  const judged = (notches: readonly NotchReading[], matched = 0.1) =>
    limitsOf({
      technique: { ...technique, alarm: { notch: 'mid-bore 0.5', share: 0.5 } },
      rotation: { axis_rad: 0, uncertainty_rad: 0.01, axisRatio: 4, points: 1000 },
      notches,
      noise: { xx: 0, xy: 0, yy: 0, matched, points: 1000 }
    })
  const refusal = (...of: Parameters<typeof judged>) => refusedLimit(judged(...of))?.code

  it('are all met, each with its figure', () => {
    const limits = judged([notch(0.5, 1), notch(0.25, 0.4)])
    expect(limits.map(({ met }) => met)).toEqual([true, true, true, true, true])
    expect(limits.map(({ found: figure }) => figure)).toEqual([
      '10.0',
      'in order',
      'axis ratio 4.00, known to 0.57°',
      '28.6°, known to 5.7°',
      'all 2 found, at most 2.9° off'
    ])
  })

  it('ask for amplitude that grows with depth, among notches of one place', () => {
    expect(refusal([notch(0.5, 1), notch(1, 1)])).toBe('standardize/notches-out-of-order')
    expect(refusal([notch(0.5, 1), notch(1, 0.9)])).toBe('standardize/notches-out-of-order')
    expect(refusal([notch(0.5, 1), notch(1, 0.9, 'entry corner')])).toBeUndefined()
    // 0.95 for both is nearest: 0.05 of it from either.
    expect(refusedLimit(judged([notch(0.5, 1), notch(1, 0.9)]))?.found).toContain('up to 5.3 % away')
    // Two of one depth have no order, whichever is named first; their mean has.
    for (const [one, other] of [
      [1, 0.97],
      [0.97, 1]
    ] as const) {
      expect(refusal([notch(0.5, one), notch(0.5, other), notch(1, 1.4)])).toBeUndefined()
      expect(refusal([notch(0.5, one), notch(0.5, other), notch(1, 0.98)])).toBe('standardize/notches-out-of-order')
    }
  })

  it('ask for the signal-to-noise of the technique, itself enough', () => {
    expect(refusal([notch(0.5, 1)], 1 / 3)).toBeUndefined()
    expect(refusal([notch(0.5, 1)], 0.34)).toBe('standardize/notch-below-noise')
    expect(refusal([notch(0.5, 1)], 0)).toBeUndefined()
  })
})
