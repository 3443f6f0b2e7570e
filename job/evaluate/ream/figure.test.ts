/**
 * Oracle: the formula of `reamFigure`, ΔØ = 2 (u + a + e) from the largest measured diameter, and the limits of the
 * rules, reckoned by hand; the sum stands beside each case. With the rules of testing/asked.ts a + e = 0.25.
 */
import { isRefusal } from '@trueloop/ground/refusal'
import { describe, expect, it } from 'vitest'
import { sizeOf } from '../index.ts'
import { measured, noise, notches } from '../testing/flaws.ts'
import { furtherCutFigure, type ReamAsked, type ReamFigure, reamFigure, type SizedIndication } from './index.ts'
import { asked, type Change, rules, upTo } from './testing/asked.ts'

function figured(change: Change, ...indications: readonly SizedIndication[]): ReamFigure {
  const figure = reamFigure(asked(change), indications)
  if (isRefusal(figure)) throw new Error(figure.found)
  return figure
}

function further(change: Change): ReamFigure {
  const figure = furtherCutFigure(asked(change))
  if (isRefusal(figure)) throw new Error(figure.found)
  return figure
}

const sumOf = ({ terms: { increase_mm, required_mm }, next }: ReamFigure) => [
  ...[increase_mm, required_mm, next?.diameter_mm ?? 'refer']
]

describe('a clean-up cut', () => {
  it.each<[string, number, Change, readonly (number | string)[]]>([
    ['2 (0.30 + 0.25) = 1.10, 6.35 + 1.10', 0.3, {}, [1.1, 7.45, 7.54]],
    ['2 (0.145 + 0.25) = 0.79, 6.35 + 0.79, just a size', 0.145, {}, [0.79, 7.14, 7.14]],
    ['a micrometer more: 6.35 + 0.791', 0.1455, {}, [0.791, 7.141, 7.54]],
    ['2 (0.34 + 0.25) = 1.18, just the lower end of 7.54 − 0.01', 0.34, {}, [1.18, 7.53, 7.54]],
    ['a micrometer more', 0.3405, {}, [1.181, 7.531, 7.94]],
    ['2 (0.545 + 0.25) = 1.59, just the last', 0.545, {}, [1.59, 7.94, 7.94]],
    ['2 (0.60 + 0.25) = 1.70, beyond the last', 0.6, {}, [1.7, 8.05, 'refer']],
    ['nothing deep: 2 × 0.25', 0, {}, [0.5, 6.85, 7.14]],
    ['out of round: the largest, 6.37 + 0.79', 0.145, { measured_mm: [[6.37, 6.35, 6.36]] }, [0.79, 7.16, 7.54]],
    ['another allowance: 2 (0.3 + 0 + 0.05)', 0.3, { rules: { depth_allowance_mm: 0 } }, [0.7, 7.05, 7.14]],
    ['another eccentricity: 2 (0.3 + 0.2 + 0.3)', 0.3, { rules: { eccentricity_mm: 0.3 } }, [1.6, 7.95, 'refer']],
    ['a second cut: 6.77 + 2 (0.1 + 0.25)', 0.1, { measured_mm: [[6.35], [6.76, 6.77]] }, [0.7, 7.47, 7.54]]
  ])('%s', (_sum, upper, change, expected) => expect(sumOf(figured(change, upTo(upper)))).toEqual(expected))

  it('clears all indications at once: the deepest bound counts', () => {
    const figure = figured({}, upTo(0.1, 'H1/1'), upTo(0.3, 'H1/2'), upTo(0.2, 'H1/3'))
    expect(figure.terms.bound).toMatchObject({ indication: 'H1/2', upper_mm: 0.3 })
    expect(figure.next?.diameter_mm).toBe(7.54)
  })

  it('counts cuts and what they took off the diameter', () => {
    // from 6.35 … 6.36 to 7.15 … 7.16: at least 7.15 − 6.36 = 0.79, at most 7.16 − 6.35 = 0.81
    const figure = figured(
      {
        measured_mm: [
          [6.35, 6.36],
          [6.76, 6.77],
          [7.16, 7.15]
        ]
      },
      upTo(0.1)
    )
    expect(figure.terms).toMatchObject({ cuts_so_far: 2, removed_so_far: { least_mm: 0.79, most_mm: 0.81 } })
    expect(figured({}, upTo(0.1)).terms).toMatchObject({ cuts_so_far: 0, removed_so_far: { least_mm: 0, most_mm: 0 } })
  })
})

describe('limits', () => {
  const needs = upTo(0.3)

  it.each<[string, Change, number | 'refer']>([
    // 1.5 × 7.57 = 11.355, and the axis may have moved by 0.05
    ['edge margin just held: 11.405 − 0.05 = 11.355', { hole: { edge_distance_mm: 11.405 } }, 7.54],
    ['edge margin just not held', { hole: { edge_distance_mm: 11.404 } }, 'refer'],
    // a second cut has moved it twice: 11.405 − 0.10 = 11.305
    ['edge margin of a second cut', { hole: { edge_distance_mm: 11.405 }, measured_mm: [[6], [6.35]] }, 'refer'],
    // 3 × 7.57 = 22.71, and 0.05
    ['hole spacing just held', { rules: { min_hole_spacing: 3 }, hole: { nearest_hole_mm: 22.76 } }, 7.54],
    ['hole spacing just not held', { rules: { min_hole_spacing: 3 }, hole: { nearest_hole_mm: 22.759 } }, 'refer'],
    ['spacing given and not limited', { hole: { nearest_hole_mm: 8 } }, 7.54],
    ['largest diameter at the end of the tolerance: 7.57', { rules: { max_diameter_mm: 7.57 } }, 7.54],
    ['largest diameter below it', { rules: { max_diameter_mm: 7.56 } }, 'refer'],
    ['as many cuts as permitted', { rules: { most_cuts: 2 }, measured_mm: [[6], [6.35]] }, 7.54],
    ['one cut too many', { rules: { most_cuts: 1 }, measured_mm: [[6], [6.35]] }, 'refer']
  ])('%s', (_what, change, expected) => expect(figured(change, needs).next?.diameter_mm ?? 'refer').toBe(expected))

  it('a larger size of closer tolerance may fit where a smaller does not', () => {
    const sizes = [{ diameter_mm: 7.5, over_mm: 0.2 }, { diameter_mm: 7.55 }]
    expect(figured({ rules: { permitted_sizes_mm: sizes, max_diameter_mm: 7.6 } }, needs).next?.diameter_mm).toBe(7.55)
  })

  it('that leave no size: to refer, with every reason in words', () => {
    const tight = {
      rules: { min_edge_margin: 2, most_cuts: 1 },
      hole: { edge_distance_mm: 15 },
      measured_mm: [[6], [6.35]]
    }
    const figure = figured(tight, needs)
    expect(figure.proposed).toBe('refer')
    expect(figure).not.toHaveProperty('next')
    // 14.9 / 7.57 = 1.9683, 14.9 / 7.94 = 1.8765
    expect(figure.reasons).toEqual([
      '1 cuts so far, and at most 1 permitted: this one would make 2',
      '7.54 mm edge margin (15 − 2 × 0.05) / 7.57 = 1.968, below 2',
      '7.94 mm edge margin (15 − 2 × 0.05) / 7.94 = 1.876, below 2'
    ])
    expect(figured({}, upTo(0.6)).reasons).toEqual(['no permitted size is sure to be as large as the 8.05 mm needed'])
    expect(figured({ rules: { max_diameter_mm: 7.56 } }, needs).reasons[0]).toBe(
      '7.54 mm may be 7.57 mm, above the largest diameter permitted, 7.56 mm'
    )
  })

  it('of a ratio that is just missed never read as held', () => {
    // 15.09 / 7.57 = 1.99339…; 15.139 / 7.57 = 1.99986…, which rounds to 2.000
    const figure = figured(
      { rules: { min_edge_margin: 2, max_diameter_mm: 7.6 }, hole: { edge_distance_mm: 15.189 } },
      needs
    )
    expect(figure.reasons[0]).toContain('= 1.999, below 2')
  })
})

describe('a further cut', () => {
  it.each<[string, number, readonly (number | string)[]]>([
    ['7.56 + 0.30 = 7.86', 0.3, [0.3, 7.86, 7.94]],
    ['7.56 + 0.38 = 7.94, just a size', 0.38, [0.38, 7.94, 7.94]],
    ['7.56 + 0.40 = 7.96, beyond the last', 0.4, [0.4, 7.96, 'refer']]
  ])('from the largest diameter, by what the procedure states: %s', (_sum, cut, expected) => {
    const change = { rules: { further_cut_mm: cut }, measured_mm: [[6.35], [7.54, 7.56]] }
    expect(sumOf(further(change))).toEqual(expected)
  })

  it('has to fit after the clean-up cut: 7.57 + 0.30 = 7.87, 7.57 + 0.40 = 7.97', () => {
    const fits = figured({ rules: { further_cut_mm: 0.3 } }, upTo(0.3))
    expect([fits.next?.diameter_mm, fits.then?.diameter_mm]).toEqual([7.54, 7.94])
    const not = figured({ rules: { further_cut_mm: 0.4 } }, upTo(0.3))
    expect(not.reasons).toEqual([
      '7.54 mm no permitted size fits the further cut of 0.4 mm that the procedure asks for after it',
      '7.94 mm no permitted size fits the further cut of 0.4 mm that the procedure asks for after it'
    ])
  })

  it('counts as a cut, beforehand too', () => {
    const change = (most_cuts: number) => ({ rules: { further_cut_mm: 0.3, most_cuts } })
    expect(figured(change(2), upTo(0.3)).proposed).toBe('next size')
    expect(figured(change(1), upTo(0.3)).reasons).toEqual([
      '0 cuts so far, and at most 1 permitted: this one and the further cut after it would make 2'
    ])
    expect(further({ ...change(2), measured_mm: [[6.35], [7.54]] }).proposed).toBe('next size')
    expect(further({ ...change(1), measured_mm: [[6.35], [7.54]] }).proposed).toBe('refer')
  })
})

describe('in words', () => {
  it('every term stands there, and who decides', () => {
    const size = {
      ...upTo(0.3).size,
      depth: '0.22 mm (0.15 mm to 0.30 mm), notch-equivalent',
      depth_mm: 0.22,
      level: 0.95
    }
    const change = { rules: { further_cut_mm: 0.3 }, measured_mm: [[6.35, 6.34]] }
    expect(figured(change, { name: 'H1/1', size }).lines).toEqual([
      'deepest indication H1/1: 0.22 mm (0.15 mm to 0.30 mm), notch-equivalent; upper end of its 95 % interval 0.3 mm',
      'notch-equivalent (H1/1): a crack mostly answers weaker than a notch of its size and may be deeper than this bound; the allowance has to cover it',
      'allowance for the error of depth, entered: 0.2 mm',
      'eccentricity of the cut, entered: 0.05 mm',
      'increase of the diameter: 2 × (0.3 + 0.2 + 0.05) = 1.1 mm',
      'measured: 6.34 to 6.35 mm; the largest counts, a crack may lie along it',
      'diameter needed: 6.35 + 1.1 = 7.45 mm',
      'cuts so far: 0, no limit stated',
      'permitted size 6.75 mm (6.75 to 6.77 mm): may be 6.75 mm, below the 7.45 mm needed',
      'permitted size 7.14 mm (7.14 to 7.16 mm): may be 7.14 mm, below the 7.45 mm needed',
      'permitted size 7.54 mm (7.53 to 7.57 mm): fits: edge margin (14 − 1 × 0.05) / 7.57 = 1.842, at least 1.5',
      'permitted size 7.94 mm (no tolerance stated): no permitted size fits the further cut of 0.3 mm that the procedure asks for after it',
      'proposed: clean-up ream to 7.54 mm, a person decides',
      'then clean, measure, standardize within 0.04 mm of the measured diameter, and examine again',
      'further cut asked for after it: to 7.94 mm, by the diameter then measured'
    ])
  })

  it('a proposal to refer names no size, and a further cut no depth', () => {
    expect(figured({}, upTo(0.6)).lines.at(-1)).toBe(
      'proposed: refer to engineering, a person decides: no permitted size is sure to be as large as the 8.05 mm needed'
    )
    const { lines } = further({ rules: { further_cut_mm: 0.3, most_cuts: 3 }, measured_mm: [[6.35], [7.54, 7.56]] })
    expect(lines[0]).toBe('further cut, as the procedure asks: at least 0.3 mm on the diameter')
    expect(lines).toContain('cuts so far: 1, at most 3; taken off the diameter so far 1.19 to 1.21 mm')
    expect(lines).toContain('proposed: further cut to 7.94 mm, a person decides')
  })

  it('is plain data, so that a record can keep what a person had before their eyes', () => {
    for (const figure of [
      figured({}, upTo(0.3)),
      figured({}, upTo(0.6)),
      figured({ rules: { further_cut_mm: 0.3 } }, upTo(0.3))
    ])
      expect(JSON.parse(JSON.stringify(figure))).toStrictEqual(figure)
  })

  it('says of a crack depth by which ratio it is one, and of others that they are none', () => {
    const ratio = { name: 'R', ratio: 0.7, spread: 0.1, cracks: 9, source: 's', approved: 'a' }
    const crack = { name: 'H1/1', size: { ...upTo(0.3).size, ratio } }
    const { lines } = figured({}, crack, upTo(0.2, 'H1/2'))
    expect(lines[0]).toContain('upper bound 0.3 mm, a crack\'s depth by the response ratio "R"')
    expect(lines[1]).toContain('notch-equivalent (H1/2)')
    expect(figured({}, crack).lines.join()).not.toContain('notch-equivalent')
  })
})

describe('no figure', () => {
  const codeOf = (of: ReamAsked, ...indications: readonly SizedIndication[]) => {
    const figure = reamFigure(of, indications)
    return isRefusal(figure) ? figure.code : figure.proposed
  }
  const { upper_mm: _, ...open } = upTo(0.3).size

  it.each<[string, SizedIndication['size']]>([
    ['only "at or above"', { ...open, depth: '≥ 1.50 mm', lower_mm: 1.5 }],
    ['open above', { ...open, depth: '1.40 mm (1.10 mm to beyond the deepest notch)', depth_mm: 1.4, lower_mm: 1.1 }],
    ['withheld', { ...open, depth: 'withheld', withheld: ['gain unknown'] }],
    ['withheld, whatever figure stands beside', { ...upTo(0.3).size, withheld: ['gain unknown'] }],
    ['without end', { ...open, upper_mm: Number.POSITIVE_INFINITY }]
  ])('of a depth %s, though another be bounded', (_what, size) => {
    expect(codeOf(asked(), { name: 'H1/2', size })).toBe('evaluate/ream-no-bound')
    expect(codeOf(asked(), upTo(0.3), { name: 'H1/2', size })).toBe('evaluate/ream-no-bound')
  })

  it('of no indication, and it says what to do', () => {
    const figure = reamFigure(asked(), [])
    expect(figure).toMatchObject({ code: 'evaluate/ream-no-bound', found: 'no indication to clear' })
    expect(figure).toHaveProperty('remedy', expect.stringMatching(/^no ream figure: refer/))
  })

  it('without rules, distances or a measured hole', () => {
    const one = upTo(0.3)
    expect(codeOf({ ...asked(), rules: undefined }, one)).toBe('evaluate/ream-no-rules')
    expect(codeOf({ ...asked(), hole: { id: 'H1' } }, one)).toBe('evaluate/ream-no-edge-distance')
    expect(codeOf(asked({ rules: { min_hole_spacing: 3 } }), one)).toBe('evaluate/ream-no-hole-distance')
    for (const measured_mm of [[], [[]], [[6.35], []], [[Number.NaN]], [[0]], [[6.35, -6.35]]])
      expect(codeOf(asked({ measured_mm }), one)).toBe('evaluate/ream-not-measured')
  })

  it.each([
    [[[6.35], [6.35]]],
    [[[6.35], [6.34, 6.76]]],
    [
      [
        [6.35, 6.4],
        [6.36, 6.39]
      ]
    ]
  ])('after a cut that made no larger hole: %j', (measured_mm) =>
    expect(codeOf(asked({ measured_mm }), upTo(0.1))).toBe('evaluate/ream-diameter-not-larger')
  )

  it('of a further cut that the procedure does not ask for', () => {
    expect(furtherCutFigure(asked())).toMatchObject({ code: 'evaluate/ream-no-rules' })
    expect(furtherCutFigure({ ...asked(), rules: undefined })).toMatchObject({ code: 'evaluate/ream-no-rules' })
    expect(furtherCutFigure({ ...asked(), rules, hole: { id: 'H1' } })).toMatchObject({
      code: 'evaluate/ream-no-edge-distance'
    })
  })
})

describe('with sizes as they are told', () => {
  const told = (depth_mm: number, length_mm: number) => ({
    name: 'H1/1',
    size: sizeOf(measured({ depth_mm, length_mm }), notches, [], { noise })
  })

  it('a flaw between the notches: a figure by the upper end of its interval', () => {
    const one = told(0.4, 0.8)
    const figure = figured({}, one)
    expect(one.size.upper_mm).toBeGreaterThan(0.4)
    expect(figure.terms.increase_mm).toBeCloseTo(2 * (one.size.upper_mm! + 0.25), 6)
  })

  it('a flaw beyond the notches: none', () =>
    expect(reamFigure(asked(), [told(2.6, 4)])).toMatchObject({ code: 'evaluate/ream-no-bound' }))

  it('a flaw below the smallest notch: that notch is the bound', () => {
    const one = told(0.12, 0.24)
    expect(one.size).not.toHaveProperty('lower_mm')
    expect(figured({}, one).terms.bound?.upper_mm).toBe(one.size.upper_mm)
  })
})
