import { pairScatter } from '@trueloop/ground/numerics'
import { isRefusal } from '@trueloop/ground/refusal'
import { UNIT } from '../signal/index.ts'
import { fittedShape } from './form.ts'
import type { FittedNoise, JoinedNoise } from './standardization.ts'

/** The fitted size where there is nothing to fit: what noise makes of it. */

interface Columns {
  readonly x: Float64Array
  readonly y: Float64Array
}

/** Every so many points of the clear wall a fit: neighbors say nearly the same. */
const EVERY = 3

/** Fits of a shape all over the clear wall: each the mean over places `rows` points further on. */
export function clearFits(
  standing: Columns,
  shape: Float64Array,
  { free, rows }: { readonly free: Uint8Array; readonly rows: readonly number[] }
): Columns {
  const at: number[] = []
  for (let i = 0; i < free.length; i += EVERY) if (free[i] === 1) at.push(i)
  const x = new Float64Array(at.length)
  const y = new Float64Array(at.length)
  at.forEach((i, n) => {
    const there = fittedShape(
      standing,
      shape,
      rows.map((row) => row + i)
    )
    x[n] = there.x
    y[n] = there.y
  })
  return { x, y }
}

/** Robust covariance about 0; 0 where there are too few fits, or one column is mostly 0. */
function scatterOf(fits: Columns): Pick<FittedNoise, 'xx' | 'xy' | 'yy'> {
  const scatter = pairScatter(fits)
  return isRefusal(scatter) ? { xx: 0, xy: 0, yy: 0 } : scatter
}

/** Scatter of the fitted size over the clear wall, one revolution at a time. */
export function fittedNoise(standing: Columns, free: Uint8Array, shape: Float64Array): FittedNoise {
  const fits = clearFits(standing, shape, { free, rows: [0] })
  return { ...scatterOf(fits), points: fits.x.length }
}

const isFree = (free: Uint8Array, i: number, r: number): boolean => free[i - r * UNIT] === 1 && free[i + r * UNIT] === 1

/**
 * As `fittedNoise`, of sizes joined over neighboring revolutions by these weights (0, ±1, … `[reach + 1]`), where the wall
 * is clear on all of them. `points` says how many there are: it may be none.
 */
export function joinedNoise(
  standing: Columns,
  free: Uint8Array,
  {
    shape,
    weights,
    perWidth
  }: { readonly shape: Float64Array; readonly weights: Float64Array; readonly perWidth: number }
): JoinedNoise {
  const clear = free.map((one, i) => (one === 1 && weights.every((_, r) => isFree(free, i, r)) ? 1 : 0))
  const fits = Array.from(weights, (_, r) => clearFits(standing, shape, { free: clear, rows: [-r * UNIT, r * UNIT] }))
  const joined = (of: 'x' | 'y') =>
    fits[0]![of].map((value, i) =>
      weights.reduce((sum, w, r) => sum + (r === 0 ? w * value : 2 * w * fits[r]![of][i]!), 0)
    )
  const both = { x: joined('x'), y: joined('y') }
  return { ...scatterOf(both), points: both.x.length, perWidth }
}
