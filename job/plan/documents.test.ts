import { describe, expect, it } from 'vitest'
import { type HoleSheet, namedDocuments, responsesOf, sheetOf, withDocument } from './index.ts'
import { sampleSheet } from './testing/sample.ts'

const common = {
  ...{ kinds: ['corner'], metal: 'aluminum', frequency_kHz: { least: 400, most: 600 }, probe_type: 'differential' },
  ...{ depth_mm: { least: 0.3, most: 1.4 }, cracks: 14, source: 'report 12' },
  approved: { by: 'B', level: 'III', on: '2026-03-14' }
}
const ratio = { trueloop: 'response-ratio/1', name: 'ratio', ...common, ratio: 0.74, spread: 0.06 }
const study = { trueloop: 'response-study/1', name: 'study', ...common, scatter: 0.1 }

const read = (lists: object) => sheetOf({ ...sampleSheet(), ...lists })
const refused = (lists: object) => {
  const reading = read(lists)
  return 'refusals' in reading ? reading.refusals.map(({ code, where }) => [code, where?.path]) : 'sound'
}
const sheetWith = (lists: object) => (read(lists) as { sheet: HoleSheet }).sheet

describe('documents of a job sheet', () => {
  it('stand in it, or are named by their files', () => {
    const sheet = sheetWith({ response_ratios: [ratio, 'ratio.yaml'], response_studies: ['study.yaml'] })
    const named = namedDocuments(sheet)
    expect(named.map(({ list, index, file }) => [list, index, file])).toEqual([
      ['response_ratios', 1, 'ratio.yaml'],
      ['response_studies', 0, 'study.yaml']
    ])
    expect(() => responsesOf(sheet)).toThrow('ratio.yaml')
    const whole = withDocument(
      withDocument(sheet, named[0]!, { ...ratio, name: 'two' } as never),
      named[1]!,
      study as never
    )
    expect(responsesOf(whole)).toEqual({ ratios: [ratio, { ...ratio, name: 'two' }], studies: [study] })
  })

  it('are none where the sheet has none', () => expect(responsesOf(sheetWith({}))).toEqual({ ratios: [], studies: [] }))

  it.each<[string, object, readonly (readonly string[])[]]>([
    [
      'upside down',
      { response_ratios: [{ ...ratio, depth_mm: { least: 1, most: 0.5 } }] },
      [['plan/bad-value', 'response_ratios[0].depth_mm']]
    ],
    [
      'in the wrong list',
      { response_studies: [ratio] },
      [
        ['plan/bad-value', 'response_studies[0].trueloop'],
        ['plan/missing-value', 'response_studies[0].scatter'],
        ['plan/unknown-key', 'response_studies[0].ratio'],
        ['plan/unknown-key', 'response_studies[0].spread']
      ]
    ],
    [
      'of one name',
      { response_ratios: [ratio], response_studies: [{ ...study, name: 'ratio' }] },
      [['plan/double-name', 'response_studies[0].name']]
    ],
    [
      'not approved by a Level III',
      { response_ratios: [{ ...ratio, approved: { ...ratio.approved, level: 'II' } }] },
      [['plan/bad-value', 'response_ratios[0].approved.level']]
    ]
  ])('are refused where one is %s', (_, lists, expected) => expect(refused(lists)).toEqual(expected))
})
