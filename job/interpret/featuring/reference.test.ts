/** Oracle: NumPy and SciPy on the same columns (reference/loops.py). */
import { cos, sin } from '@trueloop/ground/numerics'
import { expect, it } from 'vitest'
import { valuesOf } from '../parameters.ts'
import type { Sheet } from '../sheet.ts'
import { combOf } from './comb.ts'
import { loopFeatures } from './lobes.ts'
import { correlation, fitted, loopAt } from './loop.ts'
import { metricOf, weightsAlong } from './metric.ts'
import { FEATURING } from './numbers.ts'
import reference from './reference/loops.json' with { type: 'json' }
import { notchShape } from './shape.ts'
import { sharpnessOf } from './sharpness.ts'
import { formAt } from './testing/paint.ts'

const column = (a: number, b: number, m: number) =>
  Float64Array.from({ length: 512 }, (_, i) => ((a * i * i + b * i) % m) / m - 0.5)

const sheet: Sheet = {
  first: 0,
  step: 4,
  perTurn: 128,
  length: 512,
  x: column(7, 13, 101),
  y: column(11, 5, 97),
  cx: column(3, 17, 89),
  cy: column(5, 7, 83),
  harmonics: new Float64Array(12)
}
const shape = notchShape(formAt(85))
const noise = { xx: 0.04, xy: 0.01, yy: 0.01 }
const metric = metricOf(noise)
const loop = loopAt(sheet, 600, 40)
const close = (value: number, expected: number) => expect(Math.abs(value - expected)).toBeLessThan(reference.tolerance)

it('fits the size of the shape and the share of energy that it explains, noise made round', () => {
  const { x, y, likeness } = fitted(loop, shape, metric)
  close(x, reference.size[0]!)
  close(y, reference.size[1]!)
  close(likeness, reference.likeness)
})

it('correlates two loops, noise made round', () =>
  close(correlation(loop, loopAt(sheet, 1112, 40), metric), reference.correlation))

it('finds the strongest line of a revolution, its share and its size', () => {
  const { perTurn, share, size } = combOf(sheet, 1024, valuesOf(FEATURING))
  expect(perTurn).toBe(reference.comb.perTurn)
  close(share, reference.comb.share)
  close(size, reference.comb.size)
})

it('takes the noise off the axes of a loop', () => {
  const small = { xx: 0.1 * noise.xx, xy: 0.1 * noise.xy, yy: 0.1 * noise.yy }
  close(loopFeatures(loop, shape, small).roundness, reference.roundness)
})

it('counts energy that a running mean does not follow', () =>
  close(sharpnessOf(loop, shape, FEATURING.smooth.value), reference.sharpness))

it('weighs both components so that the noise adds least', () => {
  const { x, y } = weightsAlong(metric, { x: cos(0.7), y: sin(0.7) })
  close(x, reference.weights[0]!)
  close(y, reference.weights[1]!)
})
