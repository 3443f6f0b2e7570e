/** Oracles: SciPy's impedances and inductances (reference/layers.py), image of the coil, similarity of f and sigma. */
import { hertz, meters, siemensPerMeter } from '@trueloop/ground/quantity'
import { isRefusal, type Result } from '@trueloop/ground/refusal'
import { describe, expect, it } from 'vitest'
import reference from '../reference/layers.json' with { type: 'json' }
import { coaxialProbe, frequencyCurve, layerCurve, liftOffCurve, type PlaneView, planePoint } from './index.ts'

const must = <T>(value: Result<T>): T => {
  if (isRefusal(value)) throw new Error(value.code)
  return value
}
const code = (value: unknown): string => (isRefusal(value) ? value.code : 'answered')
const coil = { innerRadius: meters(2e-3), outerRadius: meters(4e-3), length: meters(3e-3), turns: 300 }
const { L0 } = reference.inductance.find(({ turns }) => turns === 300)!
const steel = { conductivity: siemensPerMeter(5e6), permeability: 100, thickness: 'infinite' } as const
const view: PlaneView = {
  probe: must(coaxialProbe({ coil, liftOff: meters(0.5e-3) })),
  inductance_H: L0,
  frequency: hertz(1e5),
  layers: [steel]
}
const expected = (id: string) => {
  const { dR, dX, f } = reference.cases.find((one) => one.id === id)!
  return { resistance: dR / (2 * Math.PI * f * L0), reactance: 1 + dX / (2 * Math.PI * f * L0) }
}
const near = (got: { resistance: number; reactance: number } | undefined, id: string) => {
  expect(got!.resistance).toBeCloseTo(expected(id).resistance, 11)
  expect(got!.reactance).toBeCloseTo(expected(id).reactance, 11)
}

describe('the normalized impedance plane', () => {
  it('has the points of SciPy on its curves of lift-off, frequency, conductivity and thickness', () => {
    const lifted = must(liftOffCurve(view, [meters(0), meters(1.5e-3)]))
    near(lifted[0], 'M2')
    near(lifted[1], 'M3')
    near(must(frequencyCurve(view, [hertz(1e4)]))[0], 'M1')
    near(must(layerCurve(view, 0, [{ conductivity: siemensPerMeter(0) }]))[0], 'M5')
    const zinc = { conductivity: siemensPerMeter(16.5e6), permeability: 1, thickness: meters(1e-3) }
    const coated = { ...view, layers: [zinc, steel] }
    near(must(layerCurve(coated, 0, [{ thickness: meters(1e-4) }]))[0], 'L2')
  })
  it('begins in air and ends at the image of the coil', () => {
    const metal = { ...view, layers: [{ ...steel, permeability: 1 }] }
    const states = [0, 1e30].map((sigma) => ({ conductivity: siemensPerMeter(sigma) }))
    const [air, perfect] = must(layerCurve(metal, 0, states))
    expect(air).toEqual({ resistance: 0, reactance: 1 })
    expect(perfect!.reactance).toBeCloseTo(1 + reference.image.dL / L0, 11)
  })
  it('knows frequency and conductivity by their product alone', () => {
    const [there] = must(frequencyCurve(view, [hertz(1e4)]))
    const [here] = must(layerCurve(view, 0, [{ conductivity: siemensPerMeter(5e5) }]))
    expect(here!.resistance).toBeCloseTo(there!.resistance, 13)
    expect(here!.reactance).toBeCloseTo(there!.reactance, 13)
  })
  it('refuses what its points refuse', () => {
    expect(code(planePoint({ ...view, frequency: hertz(0) }))).toBe('fields/bad-frequency')
    expect(code(liftOffCurve(view, [meters(0), meters(-1e-4)]))).toBe('fields/lowered')
    expect(code(layerCurve(view, 0, [{ permeability: 0 }]))).toBe('fields/bad-permeability')
  })
})
