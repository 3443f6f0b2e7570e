/** Refusal codes of a trial's files, each met once; what a person sees of them is tested at the door. */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { isRefusal } from '@trueloop/ground/refusal'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { hitRows } from './work/studies/hits.ts'
import { writeTrial } from './work/trial-files.ts'
import { resultsIn } from './work/trial-results.ts'

let folder = ''
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'trueloop-trial-'))
})
afterAll(() => rmSync(folder, { recursive: true, force: true }))

const codeOf = async (text: string) => {
  const file = join(folder, 'r.csv')
  writeFileSync(file, text)
  const read = await resultsIn([file])
  return 'refusals' in read ? read.refusals.map(({ code }) => code) : read.results
}

describe('results of a trial', () => {
  it('have 1, 0 or nothing as a call, and a number as a signal', async () => {
    expect(await codeOf('inspector,site,called,signal\nA,P1,1,0.5\nA,P2,0,\nA,P3,,\n')).toEqual([
      { inspector: 'A', site: 'P1', called: true, signal: 0.5 },
      { inspector: 'A', site: 'P2', called: false }
    ])
    expect(await codeOf('inspector,site,called\nA,P1,yes\n')).toEqual(['cli/no-call'])
    expect(await codeOf('inspector,site,called,signal\nA,P1,1,big\n')).toEqual(['cli/no-signal'])
    expect(await codeOf('inspector,place,called\nA,P1,1\n')).toEqual(['table/no-column'])
  })
})

describe('hits and misses', () => {
  it('have a column for each name that a header is given for', async () => {
    const file = join(folder, 'm.csv')
    writeFileSync(file, 'Tiefe,hit,specimen\n1,1,a\n')
    const codesOf = async (columns: Record<string, string>) => {
      const read = await hitRows({ path: file, unit: 'mm', columns })
      return 'refusals' in read ? read.refusals.map(({ code }) => code) : read.rows
    }
    expect(await codesOf({ size: 'Tiefe' })).toEqual([expect.objectContaining({ size: 1, hit: 1, unit: 'mm' })])
    expect(await codesOf({ depth: 'Tiefe' })).toEqual(['cli/no-such-column'])
    expect(await codesOf({ size: 'Tiefe', inspector: 'Wer' })).toEqual(['table/no-column'])
  })

  it('may be counts of flaws of one size: each a row of its own', async () => {
    const file = join(folder, 'c.csv')
    const read = async (rows: string) => {
      writeFileSync(file, `size,hits,of\n${rows}`)
      const found = await hitRows({ path: file, unit: 'mm' })
      return 'refusals' in found ? found.refusals.map(({ code }) => code) : found.rows
    }
    const rows = (await read('0.5,1,3\n0,0,2\n')) as readonly { size: number; hit: boolean; specimen: string }[]
    expect(rows.map(({ size, hit }) => [size, hit])).toEqual([
      ...[
        [0.5, true],
        [0.5, false],
        [0.5, false]
      ],
      ...[
        [0, false],
        [0, false]
      ]
    ])
    expect(new Set(rows.map(({ specimen }) => specimen)).size).toBe(5)
    for (const wrong of ['0.5,4,3\n', '0.5,x,3\n', '0.5,0,0\n', '0.5,1.5,3\n'])
      expect(await read(wrong)).toEqual(['cli/no-counts'])
  })

  it('have a unit', async () => {
    const file = join(folder, 'h.csv')
    writeFileSync(file, 'size,hit,specimen\n1,1,a\n')
    const read = await hitRows({ path: file })
    expect('refusals' in read && read.refusals.map(({ code }) => code)).toEqual(['cli/no-unit'])
  })
})

describe('answers', () => {
  it('never lie in the folder of the trial', async () => {
    const running = { orders: [] } as never
    const found = await writeTrial(running, {} as never, { folder, to: join(folder, 'a.json') })
    expect(isRefusal(found) && found.code).toBe('cli/answers-with-trial')
  })
})
