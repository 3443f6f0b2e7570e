/** The bundled program, as a shop begins with it. Oracle: the operator guide's own file, and the rules of the registers. */
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { cloneRoot } from '../../house/outside.ts'
import { type Ended, start } from './testing/bundle.ts'

let folder = ''
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'trueloop-registers-door-'))
})
afterAll(() => rmSync(folder, { recursive: true, force: true }))

const own = 'correct horse battery'
const run = (args: readonly string[], env: Record<string, string> = {}): Promise<Ended> =>
  start(join(folder, 'home'), args, { TRUELOOP_PASSPHRASE: own, ...env }).ended
const done = async (args: readonly string[], env: Record<string, string> = {}): Promise<string> => {
  const { code, out, err } = await run(args, env)
  expect({ code, err }).toEqual({ code: 0, err: '' })
  return out
}

/** The file that the guide has to begin with, in the guide's own words but for the years: it holds whenever this runs. */
function guideFile(): string {
  const guide = readFileSync(join(cloneRoot, 'docs/operator-guide.md'), 'utf8')
  const [, text = ''] = /```yaml\n(trueloop: registers\/1\n[\s\S]*?)```/.exec(guide) ?? []
  const path = join(folder, 'registers.yaml')
  const lasting = text.replace(/expires: \d{4}/g, 'expires: 2199').replace(/(issued|examined|from): \d{4}/g, '$1: 2019')
  writeFileSync(path, lasting)
  return path
}

describe('the registers', () => {
  it('begin, grow, replace a key and are verified, as the guide has it', async () => {
    const file = guideFile()
    expect((await run(['register'])).out).toContain('no registers in this archive')
    const early = await run(['register', file, '--as', 'C. Level'])
    expect({ code: early.code, out: early.out }).toEqual({ code: 2, out: '' })
    expect(early.err).toContain('refused: cli/no-key')
    expect(early.err).toMatch(/where: +.*registers\.yaml:\d+:\d+, people\[1\]/)
    await done(['key', 'new', 'D. Level'], { TRUELOOP_PASSPHRASE: 'another long passphrase' })
    await done(['key', 'new', 'A. Sample'], { TRUELOOP_PASSPHRASE: 'a third long passphrase' })
    const added = await done(['register', file, '--as', 'C. Level'])
    expect(added).toContain('registered: person C. Level')
    expect(added).toContain('registered: instrument')
    const list = JSON.parse((await run(['register', '--on', '2026-03-14', '--json'])).out)
    expect(list).toMatchObject({ trueloop: 'register/1', refusals: [], on: '2026-03-14' })
    expect(list.registers.map(({ standing }: { standing: string }) => standing)).toEqual(
      Array(list.registers.length).fill('in force')
    )
    const replace = ['key', 'replace', 'A. Sample', '--as', 'C. Level', '--reason', 'lost', '--json']
    const key = JSON.parse(await done(replace, { TRUELOOP_NEW_PASSPHRASE: 'a fourth long passphrase' }))
    expect(key).toMatchObject({ trueloop: 'key/1', did: 'replaced', name: 'A. Sample' })
    expect(await done(['verify', '--registers'])).toContain('intact')
    const strike = ['register', '--strike', 'R-635-1', '--what', 'probe', '--reason', 'worn', '--as', 'A. Sample']
    const old = await run(strike, { TRUELOOP_PASSPHRASE: 'a third long passphrase' })
    expect(old.code).toBe(2)
    expect(old.err).toContain('refused: keys/wrong-passphrase')
    expect(await done(strike, { TRUELOOP_PASSPHRASE: 'a fourth long passphrase' })).toContain('struck off')
  }, 120_000)

  it.each([
    ['a file without a person who signs', ['register', 'x.yaml']],
    ['striking off without a reason', ['register', '--strike', 'P', '--what', 'probe', '--as', 'C']],
    ['an unknown register', ['register', '--strike', 'P', '--what', 'pen', '--reason', 'x', '--as', 'C']],
    ['a day of no calendar', ['register', '--on', '2026-02-30']],
    ['replacing without a second person', ['key', 'replace', 'A', '--reason', 'x']],
    ['a key for nobody', ['key', 'new']]
  ])('%s is wrong use', async (_, args) => {
    const { code, err } = await run(args)
    expect(code).toBe(64)
    expect(err).toContain('--help')
  })

  it('say what is missing before they ask for anything', async () => {
    const { code, err } = await run(['register', join(folder, 'none.yaml'), '--as', 'C. Level'])
    expect(code).toBe(2)
    expect(err).toContain('sheet/no-file')
  })
})

describe('a demonstration by counting', () => {
  it('is shown before it is stored, stored signed, judged once, and attached to no technique unless it was demonstrated', async () => {
    const sample = join(cloneRoot, 'docs/samples/demonstration-plan.yaml')
    const shown = await run(['prove', 'plan', sample])
    expect({ code: shown.code, err: shown.err }).toEqual({ code: 1, err: '' })
    expect(shown.out).toMatch(/98\.0 % +55\.7 %/)
    expect(shown.out).toContain('not stored')
    const stored = await run(['prove', 'plan', sample, '--as', 'C. Level'])
    expect(stored.out).toContain('stored and signed by C. Level: corner cracks of 1.27 mm')
    expect((await run(['prove', 'plan'])).out).toMatch(/corner cracks of 1\.27 mm .* not ended/)
    const later = new Date(Date.now() + 3_600_000).toISOString()
    const looks = Array.from(
      { length: 29 },
      (_, i) => `S-${String(i + 1).padStart(2, '0')},${i === 3 ? 0 : 1},${later}`
    )
    const rows = join(folder, 'looks.csv')
    const judge = ['prove', 'judge', 'corner cracks of 1.27 mm', rows, '--as', 'C. Level']
    writeFileSync(rows, ['site,hit,at', ...looks.slice(5)].join('\n'))
    expect((await run(judge)).err).toContain('refused: prove/trial-incomplete')
    writeFileSync(rows, ['site,hit,at', ...looks.map((look) => look.replace(',1,', ',yes,'))].join('\n'))
    expect((await run(judge)).err).toContain('refused: cli/no-call')
    writeFileSync(rows, ['site,hit,at', ...looks].join('\n'))
    const report = join(folder, 'demonstration.html')
    const judged = await run([...judge, '--report', report])
    expect({ code: judged.code, err: judged.err }).toEqual({ code: 1, err: '' })
    expect(judged.out).toContain('Not demonstrated')
    expect(readFileSync(report, 'utf8')).toContain('28 of 29 found')
    expect((await run(judge)).err).toContain('refused: prove/already-judged')
    const attach = ['approve', 'JOB', '--demonstration', 'corner cracks of 1.27 mm', '--as', 'C. Level']
    expect((await run(attach)).err).toContain('refused: prove/not-demonstrated')
    expect(await done(['verify', '--registers'])).toContain('intact')
  })
})
