/** The bundled program with the trial of the guide. Oracle: the sizes that stand in the trial itself. */
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { cloneRoot } from '../../house/outside.ts'
import { type Ended, start } from './testing/bundle.ts'

let folder = ''
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'trueloop-prove-door-'))
})
afterAll(() => rmSync(folder, { recursive: true, force: true }))

const sample = join(cloneRoot, 'docs/samples/blind-trial.yaml')
const run = (...args: readonly string[]): Promise<Ended> => start(join(folder, 'home'), ['prove', ...args]).ended
const sizes: Readonly<Record<string, number>> = { 'S1-01': 0.3, 'S2-01': 0.7, 'S2-02': 1.4 }

describe('a blind trial', () => {
  const trial = () => join(folder, 'trial')
  const answers = () => join(folder, 'kept', 'answers.json')

  it('is built once, the sizes in one file alone, apart', async () => {
    const { code, out, err } = await run('build', sample, '--into', trial(), '--answers', answers())
    expect({ code, err }).toEqual({ code: 0, err: '' })
    expect(out).toContain('3 flaws; 60 are proposed for hit/miss')
    expect(readdirSync(trial()).sort()).toEqual(['A.-Sample.csv', 'B.-Sample.csv', 'trial.json'])
    for (const file of readdirSync(trial()))
      expect(readFileSync(join(trial(), file), 'utf8')).not.toMatch(/0\.3|0\.7|1\.4/)
    const again = await run('build', sample, '--into', trial(), '--answers', join(folder, 'other.json'))
    expect(again.err).toContain('refused: cli/folder-not-empty')
    expect(existsSync(join(folder, 'other.json'))).toBe(false)
    const together = await run('build', sample, '--into', join(folder, 't2'), '--answers', join(folder, 't2', 'a.json'))
    expect(together.err).toContain('refused: cli/answers-with-trial')
  })

  it('is closed with what was filled in; what was not examined is said, and asks for a person', async () => {
    const filled = readFileSync(join(trial(), 'A.-Sample.csv'), 'utf8')
      .split('\r\n')
      .map((line) => {
        const site = line.split(',')[1] ?? ''
        if (!site.startsWith('S') || site === 'S1-03') return line
        return `A. Sample,${site},${(sizes[site] ?? 0) > 0.5 ? 1 : 0},${sizes[site] ?? ''},`
      })
    writeFileSync(join(folder, 'a.csv'), filled.join('\r\n'))
    const out = join(folder, 'closed.json')
    const closed = await run(
      'close',
      trial(),
      join(folder, 'a.csv'),
      join(trial(), 'B.-Sample.csv'),
      '--answers',
      answers(),
      '--out',
      out
    )
    expect(closed.code).toBe(1)
    expect(closed.out).toMatch(/corner +2 +3 +0 +2/)
    expect(closed.out).toContain('not examined: 7')
    const { kinds, proves } = JSON.parse(readFileSync(out, 'utf8'))
    expect(proves).toBe(true)
    expect(kinds[0].rows).toHaveLength(5)
    for (const row of kinds[0].rows) expect(row.size_mm).toBe(sizes[row.site] ?? 0)
  })

  it('is not closed with other answers, other words for a call, or signals that are none', async () => {
    const spoiled = join(folder, 'spoiled.json')
    writeFileSync(spoiled, readFileSync(answers(), 'utf8').replace('0.7', '0.9'))
    const other = await run('close', trial(), join(folder, 'a.csv'), '--answers', spoiled)
    expect(other.code).toBe(2)
    expect(other.err).toContain('refused: prove/other-answers')
    writeFileSync(join(folder, 'word.csv'), 'inspector,site,called\nA. Sample,S1-01,yes\n')
    expect((await run('close', trial(), join(folder, 'word.csv'), '--answers', answers())).err).toContain(
      'refused: cli/no-call'
    )
    writeFileSync(join(folder, 'signal.csv'), 'inspector,site,called,signal\nA. Sample,S1-01,1,big\n')
    expect((await run('close', trial(), join(folder, 'signal.csv'), '--answers', answers())).err).toContain(
      'refused: cli/no-signal'
    )
    const missing = await run('close', join(folder, 'nowhere'), join(folder, 'a.csv'), '--answers', answers())
    expect(missing.err).toContain('refused: sheet/no-file')
  })
})

describe('hits and misses', () => {
  const study = join(cloneRoot, 'docs/samples/hit-miss-study.yaml')
  const { hm1, hm_weakslope } = JSON.parse(
    readFileSync(join(cloneRoot, 'ground/numerics/reference/hit-miss.json'), 'utf8')
  ).sets as Record<string, { size: readonly number[]; hits: readonly number[] }>
  const tableOf = (name: string, { size, hits }: { size: readonly number[]; hits: readonly number[] }) => {
    const file = join(folder, `${name}.csv`)
    const rows = size.map((one, at) => `${one},${hits[at]},F${at}`)
    const blanks = Array.from({ length: 30 }, (_, at) => `0,${at === 0 ? 1 : 0},B${at}`)
    writeFileSync(file, ['size,hit,specimen', ...rows, ...blanks].join('\n'))
    return file
  }

  it('state what R and 40-digit arithmetic give for 60 flaws: a90 1.324, bounds 2.087 and 2.342 mm', async () => {
    const out = join(folder, 'result.json')
    const report = join(folder, 'report.html')
    const table = tableOf('hm1', hm1!)
    const { code, out: text, err } = await run('hits', study, table, '--unit', 'mm', '--out', out, '--report', report)
    expect({ code, err }).toEqual({ code: 0, err: '' })
    expect(text).toContain('depth found in 90 % of cases with 95 % confidence: 2.087 mm, bound by likelihood')
    expect(text).toContain('90 % at 1.324 mm')
    expect(text).toMatch(/bound by crossing .*: 2\.342 mm/)
    expect(text).toContain('false calls: 1 of 30 blanks')
    expect(readFileSync(report, 'utf8')).toContain('Depth of 2.09 mm: found in 90 % of cases with 95 % confidence')
    expect(JSON.parse(readFileSync(out, 'utf8')).data.sha256).toMatch(/^[0-9a-f]{64}$/)
  })

  it('that show nothing say so, and no number stands there', async () => {
    const { code, out } = await run('hits', study, tableOf('weak', hm_weakslope!), '--unit', 'mm')
    expect(code).toBe(1)
    expect(out).toContain('NOT DEMONSTRATED')
    expect(out).not.toMatch(/confidence: \d/)
  })

  it('come from a closed trial too, and are refused as text or without a unit', async () => {
    const closed = await run('hits', study, join(folder, 'closed.json'), '--kind', 'corner')
    expect(closed.out).toContain('data: 5 rows, 3 flaws, 2 blanks')
    const other = await run('hits', study, join(folder, 'closed.json'), '--kind', 'through')
    expect(other.err).toContain('refused: prove/kind-not-planned')
    const file = tableOf('hm1', hm1!)
    expect((await run('hits', study, file)).err).toContain('refused: cli/no-unit')
    writeFileSync(join(folder, 'words.csv'), 'size,hit,specimen\n1,yes,a\n2,no,b\n')
    expect((await run('hits', study, join(folder, 'words.csv'), '--unit', 'mm')).err).toContain(
      'refused: prove/hits-as-text'
    )
  })
})
