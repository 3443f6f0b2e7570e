/** Oracle: the statements as the technique of notch comparison has them, written out for notches of known answers. */
import { describe, expect, it } from 'vitest'
import type { NotchReading } from '../standardize/index.ts'
import { proposalOf, sizeOf } from './index.ts'

const notch = (place: string, depth_mm: number, amplitude: number): NotchReading => ({
  id: `${place} ${depth_mm}`,
  place,
  depth_mm,
  length_mm: 2 * depth_mm,
  amplitude,
  matched: amplitude,
  phase_rad: 0,
  fitted: { x: 0, y: 1 },
  fittedNoise: { x: 0, y: 0 },
  angle_rad: 0,
  z_m: 0,
  angleOff_rad: 0,
  zOff_m: 0
})

const notches = [
  notch('mid-bore', 1, 2.3),
  notch('mid-bore', 0.25, 0.4),
  notch('mid-bore', 0.5, 1),
  notch('entry corner', 0.5, 0.6),
  notch('entry corner', 0.76, 1.1)
]

/**
 * By how much an answer has to differ from a notch's so that the depth surely does: 1.96 deviations of the logarithm,
 * √(2 · 0.03² + 0.4²) = 0.4022 for two scatters of 3 % and lengths that spread by 0.4; e^0.7884 = 2.2.
 */
const SURELY = 2.2

const bore = (amplitude: number, withheld: readonly string[] = []) =>
  sizeOf({ amplitude, place: 'mid-bore' }, notches, withheld)

describe('sizeOf', () => {
  it('between two notches of its kind: said; the bounds hold whatever its length', () => {
    const { why, ...said } = bore(0.7)
    expect(said).toEqual({
      depth: 'answers between notches mid-bore 0.25 and mid-bore 0.5',
      upper_mm: 1,
      extent: 'not known: no scale along the axis',
      withheld: []
    })
    expect(why?.map(({ code }) => code)).toEqual(['evaluate/too-few-notches'])
    expect(bore(1)).toMatchObject({ lower_mm: 0.25, upper_mm: 1 })
    expect(bore(0.4 * SURELY * 1.001)).toMatchObject({ lower_mm: 0.25 })
    expect(bore(0.4 * SURELY * 0.999)).not.toHaveProperty('lower_mm')
    expect(bore((2.3 / SURELY) * 0.999)).toMatchObject({ upper_mm: 1 })
    expect(bore((2.3 / SURELY) * 1.001)).not.toHaveProperty('upper_mm')
  })

  it('below the smallest: an upper bound alone', () => {
    const size = bore(0.39)
    expect(size).toMatchObject({ depth: 'answers below notch mid-bore 0.25', upper_mm: 0.5 })
    expect(size).not.toHaveProperty('lower_mm')
    expect(bore(0.39 / SURELY)).toMatchObject({ upper_mm: 0.25 })
  })

  it('as or above the largest: a lower bound alone', () => {
    for (const [amplitude, lower_mm] of [
      [2.3, 0.5],
      [9, 1]
    ] as const) {
      const size = bore(amplitude)
      expect(size).toMatchObject({ depth: 'answers as or above notch mid-bore 1', lower_mm })
      expect(size).not.toHaveProperty('upper_mm')
    }
  })

  it('is told by notches of its own kind only', () => {
    const corners = notches.filter(({ place }) => place === 'entry corner')
    expect(sizeOf({ amplitude: 0.6 * SURELY + 0.1, place: 'corner' }, corners, [])).toMatchObject({ lower_mm: 0.5 })
    expect(sizeOf({ amplitude: 0.45, place: 'corner' }, corners, [])).toMatchObject({ upper_mm: 0.76 })
    const none = sizeOf({ amplitude: 0.7, place: 'corner' }, notches.slice(0, 3), [])
    expect(none).toMatchObject({ depth: 'withheld', withheld: ['no corner notch in the reference standard'] })
    expect(none).not.toHaveProperty('lower_mm')
    expect(
      sizeOf({ amplitude: 1.4, place: 'track' }, [notch('track', 0.5, 0.6), notch('track', 1, 3.2)], [])
    ).toMatchObject({
      lower_mm: 0.5,
      upper_mm: 1
    })
  })

  it('in a corner zone holds for a flaw of the corner and for one of the bore', () => {
    expect(sizeOf({ amplitude: 0.7, place: 'corner' }, notches, [])).toMatchObject({
      depth:
        'answers between notches entry corner 0.5 and entry corner 0.76; were it mid-bore, answers between notches mid-bore 0.25 and mid-bore 0.5'
    })
    const strong = sizeOf({ amplitude: 0.6 * SURELY + 0.1, place: 'corner' }, notches, [])
    expect(strong).toMatchObject({ lower_mm: 0.25 })
    const weak = sizeOf({ amplitude: 0.4, place: 'corner' }, notches, [])
    expect(weak).not.toHaveProperty('lower_mm')
    expect(weak).toMatchObject({ upper_mm: 0.76 })
  })

  it('is withheld with its reasons, the extent too', () => {
    const size = sizeOf({ amplitude: 0.7, place: 'mid-bore', extent_m: 2e-3 }, notches, [
      'gain unknown',
      'cable unknown'
    ])
    expect(size).toEqual({ depth: 'withheld', extent: 'withheld', withheld: ['gain unknown', 'cable unknown'] })
  })

  it('has an extent where the axis has a scale, to a hundredth of a millimeter', () => {
    const size = sizeOf({ amplitude: 0.7, place: 'mid-bore', extent_m: 1.2345e-3 }, notches, [])
    expect(size).toMatchObject({ extent: '1.23 mm between the −6 dB points, footprint included', extent_mm: 1.23 })
    const cut = sizeOf({ amplitude: 0.7, place: 'mid-bore', extent_m: 1e-3, cutAt: 'joint' }, notches, [])
    expect(cut.extent).toBe('1.00 mm between the −6 dB points, footprint included, stated up to the joint')
  })
})

describe('proposalOf', () => {
  it.each([
    ['relevant', 'relevant'],
    ['undecided', 'undecided'],
    ['false', 'false'],
    ['damage, not a crack', 'damage'],
    ['nonrelevant', 'nonrelevant']
  ] as const)('%s: the word first, and a person after it', (kind, word) => {
    const proposal = proposalOf(kind, [])
    expect(proposal.startsWith(`${word}:`)).toBe(true)
    expect(proposal).toMatch(/person|scan again|look a second time/)
    expect(proposal).not.toContain('no crack')
  })

  it('is none where something is withheld, and says why', () => {
    expect(proposalOf('relevant', ['gain unknown', 'other'])).toBe('no proposal: gain unknown')
  })
})
