import { mkdirSync, readFileSync, writeFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { needsTool } from '../../house/tools.ts'
import { linesOf } from './lines.ts'
import { names } from './names.ts'
import { unpack } from './testing/forged.ts'
import { type Home, makeHome } from './testing/home.ts'
import { run } from './testing/run.ts'
import { addSignedJob } from './testing/signed-job.ts'
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

needsTool('openssl', 'a signature', () => {
  it('is checked by other programs as the page to read first says', async () => {
    const archive = await home.archive('signed')
    await addSignedJob(archive)
    const files = unpack(await home.exported(archive, 'S-4', 'signed.zip'))
    const folder = home.path('signed-out')
    for (const { name, bytes } of files) {
      mkdirSync(dirname(join(folder, name)), { recursive: true })
      writeFileSync(join(folder, name), bytes)
    }
    const page = readFileSync(join(folder, names.readMe), 'utf8')
    const commands = /( {2}sed -n[^\n]*\n(?:(?!\n\n)[\s\S])*?signature\.bin)\n\nIt prints/.exec(page)?.[1] ?? ''
    expect(run('sh', ['-c', commands], folder)).toContain('Signature Verified Successfully')
    const other = commands.replace('"job":"S-4"', '"job":"S-5"')
    expect(() => run('sh', ['-c', other], folder)).toThrow('Verification Failure')
  })
})
