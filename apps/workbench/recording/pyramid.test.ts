import fc from 'fast-check'
import { expect, it } from 'vitest'
import { columnsOf, finest, levelFor, PyramidBuilder } from './pyramid.ts'

/** Oracle: the samples themselves, looked through one by one. */

const signal = fc.array(
  fc.oneof({ weight: 9, arbitrary: fc.float({ noNaN: true, min: -9, max: 9 }) }, fc.constant(Number.NaN)),
  {
    minLength: 1,
    maxLength: 4000,
    size: 'max'
  }
)

const built = (x: readonly number[], cut: number) => {
  const builder = new PyramidBuilder()
  for (let at = 0; at < x.length; at += cut)
    builder.add(
      at,
      x.slice(at, at + cut),
      x.slice(at, at + cut).map((one) => -one)
    )
  return builder
}

const extremes = (some: readonly number[]): readonly [number, number] => {
  const there = some.filter((one) => !Number.isNaN(one))
  return there.length === 0 ? [Number.NaN, Number.NaN] : [Math.min(...there), Math.max(...there)]
}

it('holds least and most of every bin, wherever the samples are cut', () => {
  fc.assert(
    fc.property(signal, fc.integer({ min: 1, max: 999 }), (x, cut) => {
      for (const { bin, x: bins, y } of built(x, cut).levels()) {
        expect(bins.length).toBe(2 * Math.ceil(x.length / bin))
        for (let at = 0; at < bins.length / 2; at++) {
          const [least, most] = extremes(x.slice(at * bin, (at + 1) * bin))
          expect([bins[2 * at], bins[2 * at + 1]]).toEqual([Math.fround(least), Math.fround(most)])
          expect([y[2 * at], y[2 * at + 1]].map((one) => one! + 0)).toEqual([
            Math.fround(-most) + 0,
            Math.fround(-least) + 0
          ])
        }
      }
    }),
    { numRuns: 30 }
  )
})

it('gets coarser until a screen holds it, and loses no peak on the way', () => {
  const x = Array.from({ length: 300_000 }, (_, i) => (i === 123_456 ? 7 : 0))
  const levels = built(x, 8192).levels()
  expect(levels.map(({ bin }) => bin)).toEqual([64, 256, 1024])
  for (const { x: bins, bin } of levels) {
    expect(Math.max(...bins)).toBe(7)
    expect(bins[2 * Math.floor(123_456 / bin) + 1]).toBe(7)
  }
  expect(levelFor(levels, 300).bin).toBe(256)
  expect(levelFor(levels, 3).bin).toBe(finest)
})

it('gives every column of the screen what lies under it', () => {
  const x = Array.from({ length: 64 * 100 }, (_, i) => i)
  const [level] = built(x, 999).levels()
  const columns = columnsOf(level!.x, level!.bin, { from: 640, to: 1280, columns: 10 })
  expect([...columns]).toEqual(Array.from({ length: 10 }, (_, at) => [640 + 64 * at, 703 + 64 * at]).flat())
  const beyond = columnsOf(level!.x, level!.bin, { from: -640, to: 6400 + 640, columns: 12 })
  expect(beyond[0]).toBeNaN()
  expect(beyond[23]).toBeNaN()
})

it('leaves what was jumped over without a number', () => {
  const builder = new PyramidBuilder()
  builder.add(0, [1, 2], [1, 2])
  builder.add(200, [3], [3])
  const [level] = builder.levels()
  expect([...level!.x]).toEqual([1, 2, Number.NaN, Number.NaN, Number.NaN, Number.NaN, 3, 3])
})
