/**
 * The bundled program with every study of the guide. Oracle: figures of R and printed figures (reference/signal.json,
 * gauge.json, agreement.json of job/prove, each with its source), told by the program as it prints them.
 */
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { cloneRoot } from '../../house/outside.ts'
import { type Ended, start } from './testing/bundle.ts'

let folder = ''
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'trueloop-studies-'))
})
afterAll(() => rmSync(folder, { recursive: true, force: true }))

const sample = (name: string) => join(cloneRoot, 'docs/samples', name)
const reference = (name: string) => JSON.parse(readFileSync(join(cloneRoot, 'job/prove/reference', name), 'utf8'))
const run = (...args: readonly string[]): Promise<Ended> => start(join(folder, 'home'), ['prove', ...args]).ended
const at = (name: string) => join(folder, name)

function table(name: string, columns: readonly string[], rows: readonly (readonly unknown[])[]): string {
  writeFileSync(at(name), [columns, ...rows].map((row) => row.join(',')).join('\n'))
  return at(name)
}

describe('signals', () => {
  const { tables, noise } = reference('signal.json')
  const { size, signal } = tables.ahat1 as { size: readonly number[]; signal: readonly number[] }
  const rows = size.map((one, i) => [one, signal[i], `F${i}`])
  const blanks = Array.from({ length: 30 }, (_, i) => [0, 0.1, `B${i}`])

  it('state the exact bound that R gives, 0.819 mm, every other bound beside it', async () => {
    const file = table('signals.csv', ['depth', 'signal', 'specimen'], [...rows, ...blanks])
    const report = at('signals.html')
    const said = await run(
      'signals',
      sample('signal-study.yaml'),
      file,
      '--unit',
      'mm',
      '--column',
      'size=depth',
      '--out',
      at('s.json'),
      '--report',
      report,
      '--points',
      at('s.csv')
    )
    expect({ code: said.code, err: said.err }).toEqual({ code: 0, err: '' })
    expect(said.out).toContain('Depth of 0.82 mm: found in 90 % of cases with 95 % confidence')
    for (const bound of ['0.819 mm', '0.807 mm', '0.812 mm', '0.832 mm']) expect(said.out).toContain(bound)
    expect(said.out).toContain('0 of 30 blanks')
    expect(readFileSync(report, 'utf8')).toContain('Signals over size, with the response and the threshold')
    const points = readFileSync(at('s.csv'), 'utf8').trim().split('\r\n')
    expect(points[0]).toBe('inspector,size_mm,share,lower,upper')
    const shares = points.slice(1).map((row) => Number(row.split(',')[2]))
    expect(shares).toHaveLength(41)
    expect(shares.toSorted((a, b) => a - b)).toEqual(shares)
    const again = await run('again', at('s.json'), file, '--unit', 'mm', '--column', 'size=depth')
    expect(again.out).toContain('the same, every figure')
  })

  it('are refused with text in the place of a number left out, units missing, a header that is none', async () => {
    const file = table('text.csv', ['size', 'signal', 'specimen'], [...rows, [1, 'big', 'F99']])
    const said = await run('signals', sample('signal-study.yaml'), file, '--unit', 'mm')
    expect(said.out).toContain('the text "big" as a signal')
    expect((await run('signals', sample('signal-study.yaml'), file)).err).toContain('refused: cli/no-unit')
    const strange = await run('signals', sample('signal-study.yaml'), file, '--unit', 'mm', '--column', 'depth=size')
    expect(strange.err).toContain('refused: cli/no-such-column')
    expect((await run('signals', sample('signal-study.yaml'), file, '--column', 'size')).code).toBe(64)
  })

  it('of noise give the threshold that R gives, and it can be swept', async () => {
    const file = table(
      'noise.csv',
      ['reading'],
      noise.map((one: number) => [one])
    )
    const said = await run('noise', sample('noise-study.yaml'), file, '--out', at('n.json'))
    const { threshold } = JSON.parse(readFileSync(at('n.json'), 'utf8'))
    const want = reference('signal.json').upper.find(({ pfa }: { pfa: number }) => pfa === 0.01)
    expect(threshold / want.threshold).toBeCloseTo(1, 9)
    expect(said.out).toContain('with 95 % confidence')
    const swept = await run(
      'thresholds',
      sample('threshold-sweep.yaml'),
      table('sw.csv', ['size', 'signal', 'specimen'], rows),
      '--unit',
      'mm',
      '--report',
      at('sweep.html')
    )
    expect(swept.code).toBe(0)
    expect(swept.out).toMatch(/0\.5 .*0\.819 mm/)
    expect(readFileSync(at('sweep.html'), 'utf8')).toContain('Stated size (left) and chance of a false call (right)')
  })
})

describe('flaws and blanks', () => {
  it('give the hits and false calls of each threshold that R gives', async () => {
    const { flawed, blank } = reference('operating.json') as Readonly<Record<string, readonly number[]>>
    const rows = [...flawed!.map((one, i) => [1, one, `F${i}`]), ...blank!.map((one, i) => [0, one, `B${i}`])]
    const file = table('roc.csv', ['size', 'signal', 'specimen'], rows)
    const study = [
      sample('operating-points.yaml'),
      file,
      '--unit',
      'mm',
      '--out',
      at('o.json'),
      '--report',
      at('o.html')
    ]
    const said = await run('operating-points', ...study)
    expect({ code: said.code, err: said.err }).toEqual({ code: 0, err: '' })
    expect(said.out).toMatch(/0\.2 +45 of 50 +80\.1 % +23 of 80 +38\.2 %/)
    expect(readFileSync(at('o.html'), 'utf8')).toContain('Share of flaws called over share of blanks called')
    expect((await run('again', at('o.json'), file, '--unit', 'mm')).out).toContain('the same, every figure')
    const noBlanks = table('roc-flaws.csv', ['size', 'signal', 'specimen'], rows.slice(0, flawed!.length))
    expect((await run('operating-points', study[0]!, noBlanks, '--unit', 'mm')).err).toContain('prove/no-blanks')
  })
})

describe('people and instruments', () => {
  it('a gauge study gives the shares of the published gasket study, 10.67 % of the variance', async () => {
    const { studies } = reference('gauge.json')
    const { part, operator, reading } = studies.find(({ name }: { name: string }) => name === 'gasket').table
    const rows = reading.map((one: number, i: number) => [part[i], operator[i], one])
    const file = table('gasket.csv', ['part', 'operator', 'reading'], rows)
    const said = await run('gauge', sample('gauge-study.yaml'), file, '--out', at('g.json'), '--report', at('g.html'))
    expect({ code: said.code, err: said.err }).toEqual({ code: 0, err: '' })
    expect(said.out).toMatch(/gauge +0\.06661 +10\.67/)
    expect(said.out).toContain('Groups of parts told apart: 4')
    expect((await run('again', at('g.json'), file)).out).toContain('the same, every figure')
    const holes = table('holes.csv', ['part', 'operator', 'reading'], rows.slice(1))
    expect((await run('gauge', sample('gauge-study.yaml'), holes)).err).toContain('refused: prove/unbalanced')
    const other = await run('again', at('g.json'), holes)
    expect(other.err).toContain('refused: prove/other-data')
  })

  it('agreement gives kappa of R, and each inspector against the truth', async () => {
    const { calls, fleiss } = reference('agreement.json')
    const categories = [...new Set([...calls.truth, ...calls.A])].map(String)
    const study = readFileSync(sample('agreement-study.yaml'), 'utf8')
      .replace('[called, not called]', JSON.stringify(categories))
      .replace('[called]', JSON.stringify([categories[0]]))
    writeFileSync(at('agree.yaml'), study)
    const rows = ['A', 'B', 'C'].flatMap((who) =>
      calls.truth.map((truth: string, i: number) => [`S${i}`, who, calls[who][i], truth])
    )
    const file = table('calls.csv', ['site', 'inspector', 'call', 'truth'], rows)
    const said = await run('agreement', at('agree.yaml'), file)
    expect({ code: said.code, err: said.err }).toEqual({ code: 0, err: '' })
    expect(said.out).toContain(`Kappa of all inspectors: ${Number(fleiss.kappa.toPrecision(4))}`)
    expect(said.out).toMatch(/A +B +48 of 60, .* 0\.6 /)
    expect(
      (
        await run(
          'agreement',
          at('agree.yaml'),
          table(
            'few.csv',
            ['site', 'inspector', 'call'],
            rows.slice(1).map((row) => row.slice(0, 3))
          )
        )
      ).err
    ).toContain('refused: prove/not-paired')
  })

  it('two instruments give the published limits of agreement, -79.6 to 75.4', async () => {
    const { pairs } = reference('agreement.json')
    const study = readFileSync(sample('instrument-study.yaml'), 'utf8')
    writeFileSync(
      at('i.yaml'),
      study
        .replace('scale: ratio', 'scale: difference')
        .replace('width: 1.96', 'width: 2')
        .replace('allowed: 1.1', 'allowed: 50')
    )
    const file = table(
      'pairs.csv',
      ['first', 'second'],
      pairs.first.map((one: number, i: number) => [one, pairs.second[i]])
    )
    const said = await run('instruments', at('i.yaml'), file, '--report', at('i.html'))
    expect({ code: said.code, err: said.err }).toEqual({ code: 1, err: '' })
    expect(said.out).toContain('MIND: Not shown to be within a difference of 50')
    expect(said.out).toMatch(/bias +-2\.118/)
    expect(said.out).toMatch(/lower limit of agreement +-79\.65/)
    expect(said.out).toMatch(/upper limit of agreement +75\.41/)
  })

  it('a size has a budget: lift-off half of it, as R gives for the example', async () => {
    const said = await run('size', sample('size-question.yaml'), '--out', at('u.json'), '--report', at('u.html'))
    expect({ code: said.code, err: said.err }).toEqual({ code: 0, err: '' })
    const { gum } = reference('size-uncertainty.json')
    const { size_mm, combined_mm } = JSON.parse(readFileSync(at('u.json'), 'utf8'))
    expect(size_mm / gum.d).toBeCloseTo(1, 9)
    expect(combined_mm / gum.u_c).toBeCloseTo(1, 9)
    expect(said.out).toMatch(/lift-off .* 50\.5/)
    expect(said.out).toContain('notch-equivalent')
  })
})
