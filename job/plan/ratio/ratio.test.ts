/** Oracle: the rules for such documents, written out here; a document's own words. */
import { describe, expect, it } from 'vitest'
import { responseOf } from '../index.ts'

const ratio = {
  trueloop: 'response-ratio/1',
  name: 'corner cracks 2026',
  kinds: ['corner'],
  metal: 'aluminum 7075-T6',
  frequency_kHz: { least: 400, most: 600 },
  probe_type: 'differential',
  depth_mm: { least: 0.3, most: 1.4 },
  cracks: 14,
  source: 'report 12 of the laboratory',
  approved: { by: 'A. Person', level: 'III', on: '2026-03-14' },
  ratio: 0.74,
  spread: 0.06
}

const { ratio: _, spread: __, ...common } = ratio
const study = { ...common, trueloop: 'response-study/1', scatter: 0.1 }

const refused = (value: unknown) => {
  const reading = responseOf(value)
  return 'refusals' in reading ? reading.refusals.map(({ code, where }) => [code, where?.path]) : 'read'
}

describe('a document of how cracks answer', () => {
  it('is read as it stands', () => {
    expect(responseOf(ratio)).toEqual({ document: ratio })
    expect(responseOf(study)).toEqual({ document: study })
  })

  it('says what it is', () => {
    expect(refused({ ...ratio, trueloop: 'job/1' })).toEqual([['plan/bad-value', 'trueloop']])
    expect(refused({ ...ratio, trueloop: undefined })).toEqual([['plan/missing-value', 'trueloop']])
    expect(refused(null)).toEqual([['plan/missing-value', 'trueloop']])
  })

  it.each(['metal', 'frequency_kHz', 'probe_type', 'depth_mm', 'cracks', 'source', 'approved', 'ratio', 'spread'])(
    'has no default for %s',
    (key) => {
      expect(refused({ ...ratio, [key]: undefined })).toEqual([['plan/missing-value', key]])
    }
  )

  it.each<[string, object, string]>([
    ['approved by a level II', { approved: { ...ratio.approved, level: 'II' } }, 'approved.level'],
    ['of three cracks', { cracks: 3 }, 'cracks'],
    ['of a kind twice', { kinds: ['corner', 'corner'] }, 'kinds'],
    ['of an unknown kind', { kinds: ['through'] }, 'kinds[0]'],
    ['with its depths upside down', { depth_mm: { least: 1, most: 0.5 } }, 'depth_mm'],
    ['with its frequencies upside down', { frequency_kHz: { least: 600, most: 400 } }, 'frequency_kHz'],
    ['with a spread as large as itself', { spread: 0.74 }, 'spread'],
    ['above 2', { ratio: 2.5 }, 'ratio']
  ])('is not taken %s', (_what, change, path) => {
    expect(refused({ ...ratio, ...change })).toEqual([['plan/bad-value', path]])
  })

  it('has no key that nobody knows', () => {
    expect(refused({ ...ratio, spraed: 0.1 })).toEqual([['plan/unknown-key', 'spraed']])
    expect(refused({ ...study, ratio: 0.7 })).toEqual([['plan/unknown-key', 'ratio']])
  })
})
