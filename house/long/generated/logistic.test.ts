/** Oracle: the same likelihood taken to its maximum by scipy.optimize.minimize (Nelder-Mead), reference/chance.py. */
import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { sizeFoundAt } from './logistic.ts'

interface Fit {
  readonly size: readonly number[]
  readonly found: readonly boolean[]
  readonly at50: number
  readonly at90: number
}

const { fits } = JSON.parse(readFileSync(new URL('reference/logistic.json', import.meta.url), 'utf8')) as {
  readonly fits: readonly Fit[]
}
const flaws = (sizes: readonly number[], isFound: (size: number) => boolean) =>
  sizes.map((size) => ({ size, found: isFound(size) }))

describe('size found at a share', () => {
  it.each(fits)('is that of the greatest likelihood, $at90', ({ size, found, at50, at90 }) => {
    const tried = size.map((one, k) => ({ size: one, found: found[k]! }))
    expect(sizeFoundAt(0.5, tried)).toMatchObject({ kind: 'fitted', size: expect.closeTo(at50, 6) })
    expect(sizeFoundAt(0.9, tried)).toMatchObject({ kind: 'fitted', size: expect.closeTo(at90, 6) })
  })
  it('scales with the sizes', () => {
    const { size, found } = fits[0]!
    const sizeIn = (unit: number) =>
      sizeFoundAt(
        0.9,
        size.map((one, k) => ({ size: unit * one, found: found[k]! }))
      )
    const [one, thousand] = [sizeIn(1), sizeIn(1000)]
    if (one.kind === 'none' || thousand.kind === 'none') throw new Error('no size')
    expect(thousand.size / one.size).toBeCloseTo(1000, 6)
  })
  it('lies between by factor where all above and none below are found', () =>
    expect(
      sizeFoundAt(
        0.9,
        flaws([0.1, 0.2, 0.8, 1], (size) => size > 0.5)
      )
    ).toEqual({ kind: 'separated', size: 0.4 }))
  it.each([
    ['nothing found', () => false],
    ['everything found', () => true],
    ['the share found does not rise with size', (size: number) => size < 0.15 || size === 0.3]
  ])('is not said where %s', (why, isFound) =>
    expect(sizeFoundAt(0.9, flaws([0.1, 0.2, 0.3, 0.4], isFound))).toEqual({ kind: 'none', why })
  )
})
