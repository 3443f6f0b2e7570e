import { readFileSync } from 'node:fs'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { needsTool } from '../../house/tools.ts'
import { linesOf } from './lines.ts'
import { names } from './names.ts'
import { type Home, makeHome } from './testing/home.ts'
import { run } from './testing/run.ts'
import { addSmallJob, got, plainJob } from './testing/small-job.ts'

/** What the page to read first says, done by programs that are not ours. */

let home: Home
let lines: string

const small = { ...plainJob, component: 'Tragfl\u00fcgel \u2014 "7"', corrected: 'Tragfl\u00fcgel 8' }

beforeAll(async () => {
  home = makeHome()
  const archive = await home.archive()
  await addSmallJob(archive, small)
  await home.exported(archive, small.job)
  lines = linesOf(got(await archive.entries(small.job)))
})
afterAll(() => home.end())

const text = (name: string): string => readFileSync(home.path(`out/${name}`), 'utf8')

needsTool('unzip', 'unpacked by another program', (unzip) => {
  beforeAll(() => run(unzip, ['-q', home.path('job.zip'), '-d', home.path('out')]))

  it('is whole, and has the record line by line', () => {
    expect(run(unzip, ['-t', home.path('job.zip')])).toContain('No errors detected')
    expect(text(names.entries)).toBe(lines)
  })

  it('has a page to read first in plain ASCII', () => {
    expect(text(names.readMe)).toMatch(/^[\n -~]+$/)
    expect(text(names.readMe)).toContain('Tragfl\\u00fcgel 8')
    expect(text(names.originalsTable)).toContain('reference.csv')
  })

  needsTool('sha256sum', 'and checked', (sha256sum) => {
    it('has the sums that it lists', () => {
      const said = run(sha256sum, ['-c', names.sums], home.path('out')).trim().split('\n')
      expect(said.every((line) => line.endsWith(': OK'))).toBe(true)
      expect(said).toHaveLength(text(names.sums).trim().split('\n').length)
    })

    it('has a worked example that works', () => {
      const page = text(names.readMe)
      const command = /^ {2}(sed [\s\S]*?sha256sum)$/m.exec(page)?.[1] ?? ''
      const prints = /^ {2}prints +([0-9a-f]{64})$/m.exec(page)?.[1]
      const line = JSON.parse(lines.split('\n')[1] ?? '')
      expect(prints).toBe(line.hash)
      expect(run('sh', ['-c', command], home.path('out'))).toBe(`${prints}  -\n`)
    })

    it('has such hashes on every line, and each names the one before', () => {
      const page = text(names.readMe)
      const command = /^ {2}(sed [\s\S]*?sha256sum)$/m.exec(page)?.[1] ?? ''
      let before = '0'.repeat(64)
      for (const [at, line] of lines.trimEnd().split('\n').entries()) {
        const { hash, previous } = JSON.parse(line)
        expect(previous).toBe(before)
        expect(run('sh', ['-c', command.replace('2p', `${at + 1}p`)], home.path('out'))).toBe(`${hash}  -\n`)
        before = hash
      }
    })
  })
})
