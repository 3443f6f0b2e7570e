import { describe, expect, it } from 'vitest'
import { sheetOf } from '../read.ts'
import { sampleSheet } from '../testing/sample.ts'

/** Oracle: the layers of the sample's holes, counted: H1 has two, H2 has one. */

function refused(zones: readonly string[]) {
  const sheet = sampleSheet()
  sheet.technique.zones = zones
  const read = sheetOf(sheet)
  return 'refusals' in read ? read.refusals.map(({ code, where }) => [code, where?.path]) : 'sound'
}

describe('zones that a technique asks for', () => {
  it.each<[readonly string[], unknown]>([
    [['layer 1 entry corner', 'layer 1 mid-bore', 'countersink'], 'sound'],
    [['layer 2 mid-bore'], [['plan/bad-value', 'technique.zones[0]']]],
    [['layer 1 mid-bore', 'layer 3 exit corner'], [['plan/bad-value', 'technique.zones[1]']]],
    [['the corner'], [['plan/bad-value', 'technique.zones[0]']]]
  ])('%j: %j', (zones, expected) => expect(refused(zones)).toEqual(expected))
})
