/** Oracle: tables counted by hand from the rules in the doc block of classing.ts. */
import { describe, expect, it } from 'vitest'
import { type ClassedHole, classTable } from './classing.ts'

const crack = { kind: 'crack', place: 'corner', depth_mm: 1, length_mm: 1, angle_deg: 10, z0_mm: 0, z1_mm: 1 } as const
const scratch = { kind: 'scratch', angle_deg: 200, z0_mm: 1, z1_mm: 6 } as const
const bushing = { kind: 'bushing', z0_mm: 3, z1_mm: 6 } as const
const hum = { kind: 'hum' } as const
const at = (name: string, angle_deg: number, z_mm: number) => ({ class: name, angle_deg, z_mm })

const holes: readonly ClassedHole[] = [
  {
    truth: { flaws: [crack], nuisances: [scratch] },
    // the crack twice, the gravest counts; the scratch once; one at nothing
    indications: [
      at('undecided', 12, 0.5),
      at('relevant', 350, 1),
      at('damage, not a crack', 205, 4),
      at('false', 100, 4)
    ]
  },
  {
    truth: { flaws: [crack], nuisances: [bushing] },
    // a bushing is all around from 1.5 to 7.5 mm, but the crack is more definite; nothing at the crack
    indications: [at('nonrelevant', 300, 2), at('nonrelevant', 20, 7.4)]
  },
  { truth: { flaws: [], nuisances: [scratch, hum] }, indications: [at('false', 90, 4), at('relevant', 190, 5)] },
  { truth: { flaws: [], nuisances: [] }, indications: [] }
]

describe('the classing table', () => {
  it('counts every thing once and every call at nothing', () => {
    expect(classTable(holes)).toEqual([
      { kind: 'bushing', count: 1, notIndicated: 0, classes: { nonrelevant: 1 } },
      { kind: 'crack, corner', count: 2, notIndicated: 1, classes: { relevant: 1 } },
      { kind: 'hum', count: 1, notIndicated: 0, classes: { false: 1 } },
      { kind: 'scratch', count: 2, notIndicated: 0, classes: { 'damage, not a crack': 1, relevant: 1 } },
      { kind: 'nothing', count: 1, notIndicated: 0, classes: { false: 1 } }
    ])
  })
  it('does not depend on the order of holes or indications', () => {
    const turned = [...holes].reverse().map((hole) => ({ ...hole, indications: [...hole.indications].reverse() }))
    expect(classTable(turned)).toEqual(classTable(holes))
  })
  it('is empty where nothing is', () => expect(classTable([])).toEqual([]))
})
