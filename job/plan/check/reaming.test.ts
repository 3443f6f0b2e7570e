/** Oracle: the rules themselves, on sheets written out by hand. The figures are invented. */
import { describe, expect, it } from 'vitest'
import { sheetOf } from '../index.ts'
import { sampleSheet } from '../testing/sample.ts'

const rules = {
  permitted_sizes_mm: [{ diameter_mm: 6.75, over_mm: 0.02, under_mm: 0 }, { diameter_mm: 7.14 }],
  max_diameter_mm: 7.2,
  min_edge_margin: 2,
  depth_allowance_mm: 0.3,
  eccentricity_mm: 0.05,
  diameter_class_mm: 0.04
}

/** A sheet with rules of reaming, and something changed in it. */
function read(change: object, hole: object = {}) {
  const sheet = sampleSheet()
  sheet.technique.reaming = { ...rules, ...change }
  Object.assign(sheet.holes[0], hole)
  const reading = sheetOf(sheet)
  return 'refusals' in reading ? reading.refusals.map(({ code, where }) => [code, where?.path]) : reading.sheet
}

describe('rules of reaming', () => {
  it('are read as they stand, and may be left out', () => {
    expect(read({})).toMatchObject({ technique: { reaming: rules } })
    const optional = { min_hole_spacing: 3, further_cut_mm: 0.3, most_cuts: 2 }
    expect(read(optional, { edge_distance_mm: 14, nearest_hole_mm: 26 })).toMatchObject({
      technique: { reaming: { ...rules, ...optional } },
      holes: [{ edge_distance_mm: 14, nearest_hole_mm: 26 }, {}]
    })
    expect(sheetOf(sampleSheet())).not.toHaveProperty('sheet.technique.reaming')
  })

  it.each(Object.keys(rules))('have no default for %s', (key) =>
    expect(read({ [key]: undefined })).toEqual([['plan/missing-value', `technique.reaming.${key}`]])
  )

  it.each<[string, object, string]>([
    ['without sizes', { permitted_sizes_mm: [] }, 'permitted_sizes_mm'],
    ['with a size twice', { permitted_sizes_mm: [{ diameter_mm: 7 }, { diameter_mm: 7 }] }, 'permitted_sizes_mm[1]'],
    ['out of order', { permitted_sizes_mm: [{ diameter_mm: 7 }, { diameter_mm: 6.5 }] }, 'permitted_sizes_mm[1]'],
    ['above the largest diameter', { max_diameter_mm: 7 }, 'permitted_sizes_mm[1]'],
    ['with an allowance below none', { depth_allowance_mm: -0.1 }, 'depth_allowance_mm'],
    ['with half a cut', { most_cuts: 1.5 }, 'most_cuts'],
    ['with no cut', { most_cuts: 0 }, 'most_cuts'],
    ['with a further cut of nothing', { further_cut_mm: 0 }, 'further_cut_mm'],
    ['with no diameter class', { diameter_class_mm: 0 }, 'diameter_class_mm'],
    ['with an edge inside the hole', { min_edge_margin: 0.4 }, 'min_edge_margin']
  ])('are not taken %s', (_what, change, path) =>
    expect(read(change)).toEqual([['plan/bad-value', `technique.reaming.${path}`]])
  )

  it('have no key that nobody knows', () =>
    expect(read({ allowance_mm: 0.26 })).toEqual([['plan/unknown-key', 'technique.reaming.allowance_mm']]))
})

describe('distances of a hole', () => {
  it.each(['edge_distance_mm', 'nearest_hole_mm'])('lie outside it: %s', (key) => {
    expect(read({}, { [key]: 3.175 })).toEqual([['plan/bad-value', `holes[0].${key}`]])
    expect(read({}, { [key]: 3.18 })).toMatchObject({ holes: [{ [key]: 3.18 }, {}] })
  })
})
