/** Oracle: the result that the blocks are made of, and known figures of 60 flaws (reference/hit-miss.json). */
import { isRefusal } from '@trueloop/ground/refusal'
import { describe, expect, it } from 'vitest'
import type { Block } from '../../../record/index.ts'
import reference from '../../reference/hit-miss.json' with { type: 'json' }
import { proveHitMiss } from '../prove.ts'
import { hitMissBlocks } from './blocks.ts'

const study = {
  ...{ kind: 'hit-miss', version: 1, name: 'trial (invented)', conditions: 'the set-up of the test', flaws: 'real' },
  ...{ measure: 'depth', scale: 'ln size', link: 'logit', share: 0.9, confidence: 0.95, bound: 'crossing' },
  ...{ inspectors: 'one', excluded: [] }
}

interface Shown {
  readonly sizes: readonly number[]
  readonly hits: readonly number[]
  readonly blanks?: number
  readonly asked?: object
}

function blocksOf({ sizes, hits, blanks = 60, asked = {} }: Shown): readonly Block[] {
  const flaws = sizes.map((size, at) => ({ row: `${at}`, size, unit: 'mm', hit: hits[at], specimen: `F${at}` }))
  const none = Array.from({ length: blanks }, (_, at) => ({
    row: `b${at}`,
    size: 0,
    unit: 'mm',
    hit: 0,
    specimen: `B${at}`
  }))
  const result = proveHitMiss({ ...study, ...asked }, [...flaws, ...none], {
    hash: () => 'a'.repeat(64),
    program: 'test 1'
  })
  if (isRefusal(result)) throw new Error(result.found)
  return hitMissBlocks(result)
}

const cautions = (blocks: readonly Block[]) =>
  blocks.flatMap((block) => (block.block === 'caution' ? [`${block.tone}: ${block.title}`] : []))
const { hm1 } = reference.sets

describe('a report of hits and misses', () => {
  it('states the bound of the method that the study chose, with all others beside it', () => {
    const blocks = blocksOf({ sizes: hm1.size, hits: hm1.hit })
    expect(cautions(blocks)).toEqual(['note: Depth of 2.34 mm: found in 90 % of cases with 95 % confidence'])
    const rows = blocks.flatMap((block) => (block.block === 'table' && /Bounds/.test(block.caption) ? block.rows : []))
    expect(rows.map((row) => row[2]!.text)).toEqual(['2.087 mm', '2.342 mm', '2.847 mm', '1.927 mm'])
    const fits = blocks.flatMap((block) =>
      block.block === 'table' && /fit that/.test(block.caption) ? block.rows : []
    )
    expect(fits).toHaveLength(8)
  })

  it('says before all else what proves nothing, and where nobody knows of false calls', () => {
    const apart = { sizes: [1, 2, 3, 4, 5, 6], hits: [0, 0, 0, 1, 1, 1] }
    const said = cautions(blocksOf({ ...apart, blanks: 0, asked: { flaws: 'simulated' } }))
    expect(said[0]).toBe('warning: Not demonstrated')
    expect(said[1]).toBe('stop: Proves no technique')
    expect(said).toContain('warning: False calls are not known')
    expect(said).toContain('warning: No curve')
  })
})
