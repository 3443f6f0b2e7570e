/**
 * What may be attached to a technique. Oracle: 60 flaws of which bound and a90 are known (hit-miss.json of ground/numerics),
 * and files that are spoiled on purpose.
 */
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { isRefusal } from '@trueloop/ground/refusal'
import { sha256 } from '@trueloop/host/hash'
import { closedRowsOf, compareInstruments, type GivenRow, type HitMissResult, proveHitMiss } from '@trueloop/job/prove'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { cloneRoot } from '../../house/outside.ts'
import { provedAgain } from './work/proved-again.ts'
import { hitRows } from './work/studies/hits.ts'

let folder = ''
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'trueloop-attach-'))
})
afterAll(() => rmSync(folder, { recursive: true, force: true }))

const { hm1 } = JSON.parse(readFileSync(join(cloneRoot, 'ground/numerics/reference/hit-miss.json'), 'utf8')).sets
const rows = hm1.size.map((size: number, at: number) => `${size},${hm1.hits[at]},F${at}`)
const blanks = Array.from({ length: 60 }, (_, at) => `0,0,B${at}`)
const study = {
  ...{ kind: 'hit-miss', version: 1, name: 'trial (invented)', conditions: 'the set-up of the test', flaws: 'real' },
  ...{ measure: 'depth', scale: 'ln size', link: 'logit', share: 0.9, confidence: 0.95, bound: 'likelihood' },
  ...{ inspectors: 'one', excluded: [] }
}

const write = (name: string, text: string): string => {
  const path = join(folder, name)
  writeFileSync(path, text)
  return path
}

async function given(table: string): Promise<readonly GivenRow[]> {
  const read = await hitRows({ path: table, unit: 'mm' })
  if ('refusals' in read) throw new Error(read.refusals[0]!.found)
  return read.rows
}

async function attached({ asked = {}, lines = [...rows, ...blanks], spoil = (text: string) => text, table = '' } = {}) {
  const path = write('rows.csv', ['size,hit,specimen', ...lines].join('\n'))
  const result = proveHitMiss({ ...study, ...asked }, await given(path), { hash: sha256, program: 'test 1' })
  if (isRefusal(result)) throw new Error(result.found)
  const file = write('result.json', spoil(JSON.stringify(result)))
  return provedAgain({ result: file, rows: table === '' ? path : table, unit: 'mm' })
}

const codeOf = (found: Awaited<ReturnType<typeof attached>>) =>
  'refusals' in found ? found.refusals.map(({ code }) => code) : []

describe('a result', () => {
  it('is attached in words that carry size, bound, false calls, conditions and the hash of its rows', async () => {
    const found = await attached()
    if ('refusals' in found) throw new Error(found.refusals[0]!.found)
    const { words, source } = found.attachable
    expect(words).toMatch(
      /^depth of 2\.09 mm: found in 90 % of cases with 95 % confidence \(60 flaws, bound by likelihood/
    )
    expect(words).toMatch(/False calls: 0 of 60 blanks, at most 4\.9 %/)
    expect(words).toContain('the set-up of the test')
    expect(source).toMatch(/trial \(invented\); data [0-9a-f]{64}; method 2/)
  })

  it('of notches or simulation, without blanks, or that shows nothing is not', async () => {
    expect(codeOf(await attached({ asked: { flaws: 'notches' } }))).toEqual(['prove/not-real'])
    expect(codeOf(await attached({ lines: rows }))).toEqual(['prove/no-blanks'])
    const apart = Array.from({ length: 20 }, (_, at) => `${1 + 0.1 * at},${at < 10 ? 0 : 1},F${at}`)
    expect(codeOf(await attached({ lines: [...apart, ...blanks] }))).toEqual(['prove/separated'])
  })

  it('of a trial that says its flaws were not real is not, whatever the study says', async () => {
    const of = (proves: boolean) => {
      const closed = { inspector: 'A', called: true }
      const all = hm1.size.map((size_mm: number, at: number) => ({
        ...{ ...closed, site: `F${at}`, size_mm },
        called: hm1.hits[at] === 1
      }))
      const none = blanks.map((_, at) => ({ ...closed, site: `B${at}`, size_mm: 0, called: false }))
      const kinds = [{ kind: 'corner', rows: [...all, ...none] }]
      return write('closed.json', JSON.stringify({ name: 'trial', proves, kinds, not_examined: [] }))
    }
    const attach = async (proves: boolean) => {
      const rowsFile = of(proves)
      const closed = closedRowsOf(JSON.parse(readFileSync(rowsFile, 'utf8')), 'corner')
      if ('refusals' in closed) throw new Error(closed.refusals[0]!.found)
      const result = proveHitMiss(study, closed.rows, { hash: sha256, program: 'test 1' })
      const file = write('result.json', JSON.stringify(result))
      return provedAgain({ result: file, rows: rowsFile, kind: 'corner' })
    }
    expect(codeOf(await attach(true))).toEqual([])
    expect(codeOf(await attach(false))).toEqual(['prove/not-real'])
  })

  it('of a study that finds no size is not', async () => {
    const asked = {
      kind: 'instruments',
      version: 1,
      name: 'two',
      conditions: 'invented',
      scale: 'difference',
      width: 2
    }
    const pairs = [1, 2, 3, 4].map((first, at) => ({
      row: `line ${at + 2}`,
      first,
      second: first + 0.1 * (at % 2),
      unit: undefined
    }))
    const result = compareInstruments({ ...asked, confidence: 0.95, allowed: null }, pairs, {
      hash: sha256,
      program: 'test 1'
    })
    const file = write('pairs.json', JSON.stringify(result))
    const table = write(
      'pairs.csv',
      ['first,second', ...pairs.map(({ first, second }) => `${first},${second}`)].join('\n')
    )
    expect(codeOf(await provedAgain({ result: file, rows: table }))).toEqual(['prove/no-capability'])
  })

  it('that was changed, or belongs to other rows, is not', async () => {
    const better = (text: string) => {
      const result = JSON.parse(text) as HitMissResult
      return JSON.stringify({ ...result, stated_m: 0.0005 })
    }
    expect(codeOf(await attached({ spoil: better }))).toEqual(['prove/other-figures'])
    const other = write('other.csv', ['size,hit,specimen', ...rows.slice(1), ...blanks].join('\n'))
    expect(codeOf(await attached({ table: other }))).toEqual(['prove/other-data'])
    expect(codeOf(await attached({ spoil: () => '{"kind":"something"}' }))).toEqual(['prove/not-a-result'])
  })
})
