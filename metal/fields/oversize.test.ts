/**
 * Oracle: answers of closed cracks by a program of its own (reference/oversize.json), the figures of the design's physics
 * (share by share, 2.7 to 3.2 mean radii), and values by hand.
 */
import { meters } from '@trueloop/ground/quantity'
import { isRefusal } from '@trueloop/ground/refusal'
import { describe, expect, it } from 'vitest'
import { lossInDecibels, type OversizeLoss, oversizeLoss, type ProbeInHole } from './index.ts'
import reference from './reference/oversize.json' with { type: 'json' }

const mm = (value: number) => meters(1e-3 * value)

const hole: ProbeInHole = {
  holeDiameter: mm(6.39),
  standardDiameter: mm(6.35),
  outOfRound: mm(0),
  doubt: mm(0),
  meanCoilRadius: mm(0.5),
  probe: 'fixed diameter'
}

function answered(change: Partial<ProbeInHole>): OversizeLoss {
  const loss = oversizeLoss({ ...hole, ...change })
  if (isRefusal(loss)) throw new Error(loss.code)
  return loss
}

const code = (change: Partial<ProbeInHole>): string => {
  const loss = oversizeLoss({ ...hole, ...change })
  return isRefusal(loss) ? loss.code : 'answered'
}

const rows = reference.cases.flatMap(({ case: name, mean_coil_radius_mm, rows: all }) =>
  all.map((row) => ({ name, radius: mean_coil_radius_mm, ...row }))
)

describe('oversizeLoss', () => {
  it.each(rows)('$name, $farther_mm mm farther: the answer is left between the ends of the rule', (row) => {
    const { share } = answered({ holeDiameter: mm(6.35 + row.farther_mm), meanCoilRadius: mm(row.radius) })
    expect(row.share).toBeGreaterThanOrEqual(share.least)
    expect(row.share).toBeLessThan(1)
  })

  it('is near the middle of what was computed: within a fifth of the exponent, all cases', () => {
    const falls = rows.map(({ share, farther_mm, radius }) => (-Math.log(share) * radius) / farther_mm)
    expect(Math.min(...falls)).toBeGreaterThan(0.8 * 3)
    expect(Math.max(...falls)).toBeLessThan(1.25 * 3)
  })

  /** as printed in the physics of the design: coil C over aluminum, coil B over steel */
  it.each([
    ['small coil, aluminum', [0.742, 0.554, 0.315, 0.11]],
    ['large coil, steel', [0.593, 0.359, 0.222, 0.14]]
  ])('%s: the reference says what was printed, and falls by 2.7 to 3.2', (name, printed) => {
    const own = rows.filter((row) => row.name === name)
    expect(own.map(({ share }) => Number(share.toFixed(3)))).toEqual(printed)
    for (const { share, farther_mm, radius } of own) {
      const fall = (-Math.log(share) * radius) / farther_mm
      expect(fall).toBeGreaterThan(2.7)
      expect(fall).toBeLessThan(3.2)
    }
  })

  it('costs 1 dB for 0.04 mm on the diameter, centered, at a mean radius of 0.5 mm (trade, by hand: 1.04 dB)', () => {
    const { gap, share } = answered({})
    expect(Number(gap.centered)).toBeCloseTo(2e-5, 12)
    expect(lossInDecibels(share.centered)).toBeCloseTo(1.0423, 3)
    expect(lossInDecibels(0.5)).toBeCloseTo(6.0206, 4)
  })

  it('leans: all of the difference opposite, nothing where it leans', () => {
    const { gap, share } = answered({ doubt: mm(0.01) })
    expect(Number(gap.most)).toBeCloseTo(5e-5, 12)
    expect(share.least).toBeCloseTo(Math.exp(-0.37), 12)
    expect(share.most).toBe(1)
  })

  it('takes the mean diameter where it stands centered in a hole out of round', () => {
    expect(Number(answered({ outOfRound: mm(0.02) }).gap.centered)).toBeCloseTo(1.5e-5, 12)
    expect(Number(answered({ outOfRound: mm(0.2) }).gap.centered)).toBe(0)
    expect(answered({ outOfRound: mm(0.02) }).gap.most).toBe(answered({}).gap.most)
  })

  it('is none for a probe that follows the wall, and in a hole that is no larger', () => {
    const none = { least: 1, centered: 1, most: 1 }
    expect(answered({ probe: 'follows the wall' }).share).toEqual(none)
    expect(answered({ holeDiameter: mm(6.35), doubt: mm(0.01) }).share).toEqual(none)
    expect(answered({ holeDiameter: mm(6.3) }).share).toEqual(none)
    expect(lossInDecibels(1)).toBe(0)
  })

  it('grows with the hole and with the doubt, and never gains', () => {
    let before = 1
    for (const width of [0, 0.01, 0.05, 0.1, 0.3]) {
      const { least, centered } = answered({ holeDiameter: mm(6.35 + width) }).share
      expect(least).toBeLessThanOrEqual(centered)
      expect(centered).toBeLessThanOrEqual(before)
      before = centered
    }
  })

  it('refuses what is no hole and no coil', () => {
    expect(code({ holeDiameter: mm(-1) })).toBe('fields/bad-diameter')
    expect(code({ standardDiameter: mm(0) })).toBe('fields/bad-diameter')
    expect(code({ doubt: mm(-0.01) })).toBe('fields/bad-diameter')
    expect(code({ outOfRound: mm(-0.01) })).toBe('fields/bad-out-of-round')
    expect(code({ outOfRound: mm(7) })).toBe('fields/bad-out-of-round')
    expect(code({ meanCoilRadius: mm(0) })).toBe('fields/bad-coil')
    expect(code({ meanCoilRadius: meters(Number.POSITIVE_INFINITY) })).toBe('fields/bad-coil')
  })
})
