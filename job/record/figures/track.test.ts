import { describe, expect, it } from 'vitest'
import type { Examination } from '../../examine/index.ts'
import { trackFigure } from './track.ts'

/** Oracle: places counted by hand: 400 mm are 730 px from 54 on, so 100 mm lie at 236.5 and 200 mm at 419. */

const examination = (more: object = {}): Examination =>
  ({
    subject: 'T1',
    zones: [
      { zone: 'a', z0_m: 0, z1_m: 0.2, state: 'examined', covered: 1, why: [] },
      { zone: 'b', z0_m: 0.2, z1_m: 0.4, state: 'not examined', covered: 0, why: ['coating above 2 mm'] }
    ],
    indications: [{ id: 'T1/1', class: 'relevant', z_m: 0.105, z0_m: 0.1, z1_m: 0.11 }],
    ...more
  }) as unknown as Examination

const points = [0.01, 0.03, 0.05, 0.15, 0.17].map((at_m) => ({ at_m, mean_mm: 1 }))
const coating = { basis: 'measured', parentWhy: 'recorded', shims_mm: [0, 1, 2], apparent: { aboveShims: 0, points } }

describe('a track of the weld map', () => {
  it('has what was found and what was not examined at its place, in shape and word', () => {
    const svg = trackFigure(examination(), 400)
    expect(svg).toContain('236.5')
    expect(svg).toContain('not examined')
    expect(svg).toMatch(/<svg x="419" y="26" width="365"/)
    expect(svg).toContain('1 stretches not examined')
  })

  it('draws the coating under it, broken where nothing was told', () => {
    const plain = (trackFigure(examination(), 400).match(/<path/g) ?? []).length
    const drawn = trackFigure(examination({ coating }), 400)
    expect(drawn).toContain('coating, mm')
    const own = drawn.match(/class="s-accent"/g) ?? []
    expect(own).toHaveLength(2)
    expect((drawn.match(/<path/g) ?? []).length).toBeGreaterThan(plain)
  })

  it('has no number in its marks that is none', () => {
    for (const one of [
      examination(),
      examination({ coating }),
      examination({ indications: [{ id: 'T1/1', class: 'false' }] })
    ])
      expect(trackFigure(one, 400)).not.toMatch(/NaN|Infinity|undefined/)
  })
})
