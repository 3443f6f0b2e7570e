/**
 * Oracles: SciPy's points at known conductivity and distance, NumPy's covariance and the scatter of 2000 answers of
 * scipy.optimize.fsolve (reference/inverse.py); the forward model, which is itself checked against SciPy, for the way back.
 */
import { hertz, meters, siemensPerMeter } from '@trueloop/ground/quantity'
import { isRefusal, type Result } from '@trueloop/ground/refusal'
import { describe, expect, it } from 'vitest'
import reference from '../reference/inverse.json' with { type: 'json' }
import {
  coaxialProbe,
  invertPoint,
  type MeasuredPoint,
  type PlaneView,
  planePoint,
  raised,
  type Sought
} from './index.ts'

const must = <T>(value: Result<T>): T => {
  if (isRefusal(value)) throw new Error(`${value.code}: ${value.found}`)
  return value
}
const code = (value: unknown): string => (isRefusal(value) ? value.code : 'answered')
type Case = (typeof reference.cases)[number]

function soughtOf({ coil, liftOff, f, layers, of, distance }: Case): Sought {
  const { r1, r2, length, turns, L0 } = coil
  const winding = { innerRadius: meters(r1), outerRadius: meters(r2), length: meters(length), turns }
  const view: PlaneView = {
    probe: must(coaxialProbe({ coil: winding, liftOff: meters(liftOff) })),
    inductance_H: L0,
    frequency: hertz(f),
    layers: layers.map(({ sigma, mur, thickness }) => ({
      conductivity: siemensPerMeter(sigma),
      permeability: mur,
      thickness: thickness === null ? 'infinite' : meters(thickness)
    }))
  }
  const sigma = layers[0]!.sigma
  return {
    view,
    conductivity: { of: 0, from: siemensPerMeter(sigma / 2), to: siemensPerMeter(sigma * 2) },
    distance: {
      of: of === 'lift-off' ? 'lift-off' : Number(of),
      from: meters(of === 'lift-off' ? 0 : distance / 2),
      to: meters(distance * 2)
    }
  }
}

const measured = (at: readonly number[], u: readonly number[], correlation = 0): MeasuredPoint => ({
  point: { resistance: at[0]!, reactance: at[1]! },
  uncertainty: { resistance: u[0]!, reactance: u[1]! },
  correlation
})
const one = (id: string): Case => reference.cases.find((row) => row.id === id)!

describe('invertPoint', () => {
  it.each(reference.cases)('finds $id from the point of SciPy, with its uncertainty', (row) => {
    const got = must(invertPoint(measured(row.point, row.u, row.correlation), soughtOf(row)))
    const near = (value: number, expected: number, within = 1e-6) =>
      expect(Math.abs(value / expected - 1)).toBeLessThan(within)
    near(got.conductivity, row.layers[0]!.sigma, 1e-8)
    near(got.distance, row.distance, 1e-8)
    near(got.uncertainty.conductivity, row.u_sigma)
    near(got.uncertainty.distance, row.u_distance)
    near(got.correlation, row.answers_correlate)
    near(got.crossing, row.crossing)
    near(got.uncertainty.conductivity, row.scatter[0]!, 0.06)
    near(got.uncertainty.distance, row.scatter[1]!, 0.06)
  })

  it('comes back to every point of its range', () => {
    const sought = soughtOf(one('aluminum'))
    for (const part of [0.05, 0.4, 0.95])
      for (const rise of [0, 0.03e-3, 0.09e-3]) {
        const sigma = siemensPerMeter(8.7e6 * 4 ** part)
        const layers = [{ ...sought.view.layers[0]!, conductivity: sigma }]
        const point = must(planePoint({ ...sought.view, layers, probe: must(raised(sought.view.probe, meters(rise))) }))
        const got = must(invertPoint(measured([point.resistance, point.reactance], [1e-5, 1e-5]), sought))
        expect(got.conductivity / sigma).toBeCloseTo(1, 9)
        expect(got.distance).toBeCloseTo(rise, 12)
      }
  })

  describe('refuses', () => {
    const row = one('aluminum')
    const sought = soughtOf(row)
    it('a point that these layers do not give, and says how far it is', () => {
      expect(code(invertPoint(measured([0.3, 0.3], row.u), sought))).toBe('fields/no-answer')
      expect(code(invertPoint(measured([0, 1], row.u), sought))).toBe('fields/no-answer')
    })
    it('curves that run along each other: a sheet much thinner than the depth of penetration', () => {
      const sheet = soughtOf(one('sheet in air'))
      const [first, air] = sheet.view.layers
      const view = { ...sheet.view, frequency: hertz(1e3), layers: [{ ...first!, thickness: meters(2e-5) }, air!] }
      const { resistance, reactance } = must(planePoint(view))
      const thin = { ...sheet, view, distance: { of: 0, from: meters(1e-5), to: meters(4e-5) } } as const
      expect(code(invertPoint(measured([resistance, reactance], [1e-4, 1e-4]), thin))).toBe('fields/curves-parallel')
    })
    it('two answers: a thick coating on steel, whose curves of thickness turn back over themselves', () => {
      const zinc = soughtOf(one('zinc on steel'))
      const [first, steel] = zinc.view.layers
      const pointOf = (sigma: number, thickness: number) => {
        const coating = { ...first!, conductivity: siemensPerMeter(sigma), thickness: meters(thickness) }
        return must(planePoint({ ...zinc.view, layers: [coating, steel!] }))
      }
      const { resistance, reactance } = pointOf(1e7, 0.9e-3)
      const got = invertPoint(measured([resistance, reactance], [1e-5, 1e-5]), {
        view: zinc.view,
        conductivity: { of: 0, from: siemensPerMeter(5e6), to: siemensPerMeter(6e7) },
        distance: { of: 0, from: meters(0.1e-3), to: meters(3e-3) }
      })
      expect(code(got)).toBe('fields/more-than-one-answer')
      // both of the answers it names are answers
      const named = isRefusal(got) ? (got.found.match(/[\d.]+(?:e-?\d+)?/g) ?? []).map(Number) : []
      for (const [sigma, thickness] of [named.slice(0, 2), named.slice(2)]) {
        expect(pointOf(sigma!, thickness!).resistance).toBeCloseTo(resistance, 10)
        expect(pointOf(sigma!, thickness!).reactance).toBeCloseTo(reactance, 10)
      }
    })
    it('a measurement too coarse for a straight line', () => {
      expect(code(invertPoint(measured(row.point, [0.05, 0.05]), sought))).toBe('fields/uncertainty-too-large')
    })
    it('a measurement that is none', () => {
      expect(code(invertPoint(measured(row.point, [0, 1e-4]), sought))).toBe('fields/bad-measurement')
      expect(code(invertPoint(measured(row.point, row.u, 1), sought))).toBe('fields/bad-measurement')
      expect(code(invertPoint(measured([Number.NaN, 1], row.u), sought))).toBe('fields/bad-measurement')
    })
    it('a range that is none, a layer that is not there, the thickness of what has no end', () => {
      const at = (change: Partial<Sought>) => code(invertPoint(measured(row.point, row.u), { ...sought, ...change }))
      const { conductivity, distance } = sought
      expect(at({ conductivity: { ...conductivity, from: siemensPerMeter(0) } })).toBe('fields/bad-search')
      expect(at({ conductivity: { ...conductivity, of: 3 } })).toBe('fields/bad-search')
      expect(at({ distance: { ...distance, from: distance.to } })).toBe('fields/bad-search')
      expect(at({ distance: { ...distance, of: 0, from: meters(1e-5) } })).toBe('fields/bad-search')
    })
    it('what the forward model refuses', () => {
      const view = { ...sought.view, frequency: hertz(0) }
      expect(code(invertPoint(measured(row.point, row.u), { ...sought, view }))).toBe('fields/bad-frequency')
    })
  })
})
