/** Oracle: the rule itself: a notch nearer to lift-off than its angle has to be bears no size. */
import { describe, expect, it } from 'vitest'
import type { Measured } from '../evaluate/index.ts'
import { sizeOf } from '../evaluate/index.ts'
import { generate } from '../rehearse/index.ts'
import type { NotchReading, Standardization } from '../standardize/index.ts'
import { sizedBy } from './hole-bearing.ts'
import { demoStandardization, examine, sceneOf } from './testing/hole.ts'

const DEG = Math.PI / 180

const along = (notch: NotchReading): NotchReading => ({
  ...notch,
  fromLiftOff: { angle_rad: 4 * DEG, repeatability_rad: 2 * DEG, needed_rad: 6 * DEG }
})

const leftOut = (isLeft: (notch: NotchReading) => boolean): Standardization => {
  const own = demoStandardization()
  return { ...own, notches: own.notches.map((notch) => (isLeft(notch) ? along(notch) : notch)) }
}

const measured: Measured = { amplitude: 0.9, place: 'mid-bore' }
const free = { withheld: [], under: {} }

describe('notches too near to lift-off', () => {
  it('bear no size: as if the standard had none of them, and each is named', () => {
    const { notches } = leftOut(({ depth_mm }) => depth_mm === 0.6)
    const others = demoStandardization().notches.filter(({ depth_mm }) => depth_mm !== 0.6)
    const { why = [], ...size } = sizedBy(notches, measured, free)
    const { why: before = [], ...expected } = sizeOf(measured, others, [])
    expect(size).toEqual(expected)
    expect(why.slice(0, -1)).toEqual(before)
    expect(why.at(-1)).toMatchObject({ code: 'examine/notch-along-lift-off' })
    const left = notches.find(({ depth_mm }) => depth_mm === 0.6)!
    expect(why.at(-1)!.found).toContain(left.id)
  })

  it('where that leaves none of the kind, the size is withheld for it', () => {
    const { notches } = leftOut(({ place }) => place.includes('mid-bore'))
    const size = sizedBy(notches, measured, free)
    expect(size.depth).toBe('withheld')
    expect(size.withheld.join()).toContain('too near to lift-off to bear a size')
    // corner notches are still there
    expect(sizedBy(notches, { ...measured, place: 'corner' }, free).depth).not.toBe('withheld')
  })

  it('where none is left out nothing changes, and what is withheld stays so', () => {
    const { notches } = demoStandardization()
    expect(sizedBy(notches, measured, free)).toEqual(sizeOf(measured, notches, []))
    expect(sizedBy(notches.map(along), measured, { withheld: ['gain: unknown'], under: {} }).depth).toBe('withheld')
  })

  it('reaches the indication', () => {
    const standardization = leftOut(({ depth_mm }) => depth_mm === 0.3)
    const { indications } = examine(generate(sceneOf('hole-P04'), 4), { standardization }).examination
    const codes = indications.flatMap(({ size }) => (size.why ?? []).map(({ code }) => code))
    expect(codes).toContain('examine/notch-along-lift-off')
  })
})
