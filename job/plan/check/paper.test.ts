import { describe, expect, it } from 'vitest'
import { checkConfirmed } from '../index.ts'
import { sheetOf } from '../read.ts'
import { sampleSheet } from '../testing/sample.ts'

/** Oracle: what an approved paper says, on a sheet written out by hand. The figures are invented. */

function read(change: object, sheet = sampleSheet()) {
  Object.assign(sheet.technique, change)
  return sheetOf(sheet)
}

const codesOf = (change: object, sheet = sampleSheet()) => {
  const reading = read(change, sheet)
  return 'refusals' in reading ? reading.refusals.map(({ code, where }) => [code, where?.path]) : []
}

const stack = [
  { metal: 'aluminum', thickness_mm: 4.5, tolerance_mm: 0.2 },
  { metal: 'aluminum', thickness_mm: 4.5 }
]

describe('the technique as a paper', () => {
  it('may say its page, effectivity, approver, method, second look and acceptance criteria', () => {
    const paper = {
      procedure: { id: 'P', revision: 'A', page: '12', effectivity: 'serials 1 to 40' },
      ...{ approver: 'B', approved_method: 2, second_look: 'what was found' },
      acceptance: { criteria: 'nothing at or above half the notch', reject_share: 0.5 }
    }
    expect(read(paper)).toMatchObject({ sheet: { technique: paper } })
  })

  it('is confirmed by the Level III whom it names, and by nobody else', () => {
    expect(codesOf({ approver: 'B' })).toEqual([])
    expect(codesOf({ approver: 'C. Other' })).toEqual([['plan/other-approver', 'confirmed.by']])
    const second = sampleSheet()
    second.people[1].level = 'II'
    second.confirmed.level = 'II'
    expect(codesOf({ approver: 'B' }, second)).toEqual([['plan/other-approver', 'confirmed.by']])
  })

  it('stays unconfirmed while a value in it was only proposed', () => {
    const reading = read({ proposed: ['frequency_kHz', 'alarm.share'] })
    const sheet = 'sheet' in reading ? reading.sheet : undefined
    const no = sheet === undefined ? undefined : checkConfirmed(sheet)
    expect(no?.code).toBe('plan/not-confirmed')
    expect(no?.found).toContain('frequency_kHz, alarm.share')
    expect(codesOf({ proposed: ['speed'] })).toEqual([['plan/unknown-key', 'technique.proposed[0]']])
    expect(codesOf({ proposed: ['constructor'] })).toEqual([['plan/unknown-key', 'technique.proposed[0]']])
  })
})

describe('holes of the stack-up that the technique is for', () => {
  const holes = (...all: object[]) => {
    const sheet = sampleSheet()
    sheet.holes = all.map((hole, at) => ({
      id: `H${at + 1}`,
      diameter_mm: 6.35,
      grip_mm: 9,
      interfaces_mm: [4.5],
      ...hole
    }))
    return sheet
  }

  it.each<[string, object, boolean]>([
    ['as drawn', {}, true],
    ['within the tolerance of the layer that has one', { interfaces_mm: [4.65], grip_mm: 9.15 }, true],
    ['outside it', { interfaces_mm: [4.75], grip_mm: 9.25 }, false],
    ['a layer without tolerance off', { grip_mm: 9.05 }, false],
    ['one layer', { interfaces_mm: [] }, false],
    ['of another metal', { layers: ['aluminum', 'titanium'] }, false]
  ])('%s', (_, change, fits) => {
    const found = codesOf({ stack_up: stack }, holes({}, change))
    expect(found).toEqual(fits ? [] : [['plan/stack-up-differs', 'holes[1]']])
  })
})
