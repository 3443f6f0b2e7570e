/** Oracles: numpy.linalg.svd (reference/form.py), and laws of a least-squares fit. */
import { describe, expect, it } from 'vitest'
import { farthest, fixedColumns } from '../signal/testing/columns.ts'
import { fittedShape, matchedWeights, shapeOf } from './index.ts'
import { matchedOutput } from './matched.kernel.ts'
import reference from './reference/form.json' with { type: 'json' }

const form = { half: 20, x: reference.x, y: reference.y }
const shape = shapeOf(form)
const sense = Math.sign(shape.reduce((sum, v, k) => sum + v * form.y[k]!, 0))

describe('the form of the named notch', () => {
  it('has the shape of its first singular vector', () => {
    expect(
      farthest(
        shape.map((v) => sense * v),
        reference.shape
      )
    ).toBeLessThan(reference.tolerance)
  })

  it('fits a signal as NumPy does, mean over its places', () => {
    const { x, y } = fittedShape(fixedColumns(500), shape, reference.places)
    expect(Math.abs(sense * x - reference.fit[0]!)).toBeLessThan(reference.tolerance)
    expect(Math.abs(sense * y - reference.fit[1]!)).toBeLessThan(reference.tolerance)
  })

  it('answers 1 to itself, and a share to its share, whatever lift-off does', () => {
    const weights = matchedWeights(form)
    const at = (share: number) =>
      matchedOutput(
        Float64Array.from(form.y, (v) => share * v),
        weights,
        { from: 20, to: 21 }
      )[0]
    expect(at(1)).toBeCloseTo(1, 14)
    expect(at(0.37)).toBeCloseTo(0.37, 14)
  })

  it('without a vertical part has no weights, not endless ones', () => {
    expect(new Set(matchedWeights({ half: 1, x: [1, 2, 3], y: [0, 0, 0] }))).toEqual(new Set([0]))
  })
})
