import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { dirname, join } from 'node:path'
import { isRefusal } from '@trueloop/ground/refusal'
import { openArchive } from '@trueloop/host/archive'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { cloneRoot, needsOutside } from '../../house/outside.ts'
import { registry } from './registry.ts'
import { bundle, runIn, start } from './testing/bundle.ts'

let folder = ''
let home = ''
const run = runIn(() => home)

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'trueloop-door-'))
  home = join(folder, 'home')
})

afterAll(() => rmSync(folder, { recursive: true, force: true }))

const sample = readFileSync(join(cloneRoot, 'docs/samples/hole-job.yaml'), 'utf8')

function written(name: string, text: string): string {
  const path = join(folder, name)
  writeFileSync(path, text)
  return path
}

describe('help', () => {
  it('lists every command', async () => {
    const { code, out } = await run('--help')
    expect(code).toBe(0)
    for (const { name } of registry) expect(out).toContain(`  ${name} `)
  })

  it.each(registry.map(({ name }) => name))('of %s has an example', async (name) => {
    const { code, out } = await run(name, '--help')
    expect(code).toBe(0)
    expect(out).toMatch(new RegExp(`Examples?:\n {2}trueloop ${name}`))
  })

  it('loads little: no schema, no server, no database before the command is known', () => {
    const seen = staticImports(bundle, new Set())
    const text = [...seen].map((path) => readFileSync(path, 'utf8')).join('')
    expect(text.length).toBeLessThan(300_000)
    for (const word of ['ZodObject', 'fastify', 'kysely']) expect(text).not.toContain(word)
  })
})

/** The files that the bundle loads whatever the command is. */
function staticImports(path: string, seen: Set<string>): Set<string> {
  seen.add(path)
  for (const [, from] of readFileSync(path, 'utf8').matchAll(/^(?:import|export)\b[^;]*?["'](\.[^"']+)["'];?$/gm)) {
    const next = join(dirname(path), from ?? '')
    if (!seen.has(next)) staticImports(next, seen)
  }
  return seen
}

describe('wrong use', () => {
  it.each([
    ['an unknown command', ['exmaine']],
    ['an unknown option', ['examine', 'job.yaml', '--fast']],
    ['no job sheet', ['examine']],
    ['no job sheet to plan', ['plan']],
    ['a seed that is no number', ['rehearse', 'x', '--seed', 'seven']],
    ['a port beyond all', ['serve', '--port', '70000']],
    ['a head that is none', ['verify', 'J', '--head', '12:abc']],
    ['no folder to restore into', ['restore', 'backup']]
  ])('%s ends with 64', async (_, args) => {
    const { code, out, err } = await run(...args)
    expect({ code, out }).toEqual({ code: 64, out: '' })
    expect(err).toContain('--help')
  })
})

describe('a job sheet that is refused', () => {
  const refusals = async (name: string, text: string) => {
    const { code, err, out } = await run('plan', written(name, text))
    expect({ code, out }).toEqual({ code: 2, out: '' })
    return err
  }

  it('for unknown keys, at line and column, in three parts', async () => {
    const text = sample.replace('place: hangar 2', 'plase: hangar 2')
    const line = text.split('\n').findIndex((one) => one.includes('plase')) + 1
    const err = await refusals('keys.yaml', text)
    expect(err).toContain('refused: plan/unknown-key')
    expect(err).toContain(`keys.yaml:${line}:3, job.plase`)
    for (const part of ['found:', 'needed:', 'what to do: did you mean "place"?']) expect(err).toContain(part)
  })

  it('for impossible values and for times in the wrong order, all in one go', async () => {
    const err = await refusals(
      'values.yaml',
      sample.replace('frequency_kHz: 500', 'frequency_kHz: -5').replace('opened: 2026-03-14', 'opened: 14.3.2026')
    )
    expect(err.match(/refused: plan\/bad-value/g)).toHaveLength(2)
    expect(await refusals('times.yaml', sample.replace('T09:20:00', 'T08:00:00'))).toContain(
      'refused: plan/dates-out-of-order'
    )
  })

  it('when it is not there, or is no sheet', async () => {
    expect((await run('examine', join(folder, 'absent.yaml'))).code).toBe(2)
    expect(await refusals('broken.yaml', 'job: { id: "A\n')).toMatch(/sheet\/not-yaml[\s\S]*broken\.yaml:\d+:\d+/)
  })

  it('as one JSON document on standard output with --json', async () => {
    const path = written('json.yaml', sample.replace('place: hangar 2', 'plase: hangar 2'))
    const { code, out, err } = await run('plan', path, '--json')
    expect({ code, err }).toEqual({ code: 2, err: '' })
    const said = JSON.parse(out)
    expect(said).toMatchObject({ trueloop: 'plan/1', exit: 2, refusals: [{ code: 'plan/unknown-key' }] })
  })
})

describe('a job from end to end', () => {
  const sheet = () => join(folder, 'demo', 'job.yaml')
  const json = async (...args: string[]) => JSON.parse((await run(...args, '--json')).out)

  it('is made, planned and standardized', async () => {
    expect((await run('rehearse', join(folder, 'demo'), '--seed', '3')).code).toBe(0)
    expect((await run('rehearse', join(folder, 'demo'), '--seed', '3')).out).toContain('made before')
    const other = await run('rehearse', join(folder, 'demo'), '--seed', '4')
    expect(other.code).toBe(2)
    expect(other.err).toContain('cli/folder-not-empty')
    expect((await run('plan', sheet())).code).toBe(0)
    expect((await json('plan', sheet())).added).toEqual([])
    expect(await json('standardize', sheet())).toMatchObject({ trueloop: 'standardize/1', exit: 0 })
  })

  it('is stopped by Ctrl-C and goes on without loss or doubles', async () => {
    const { child, ended } = start(home, ['examine', sheet()])
    await anExamination(home)
    child.kill('SIGINT')
    expect((await ended).code).toBe(130)
    const stopped = await json('record', 'DEMO-1')
    expect(stopped.summary.entries).toBeGreaterThan(0)
    expect(await json('examine', sheet())).toMatchObject({ trueloop: 'examine/1', exit: 1, interrupted: false })
    const { entries } = JSON.parse((await run('record', 'DEMO-1', '--entries', '--json')).out)
    const examined = entries.filter(({ kind }: { kind: string }) => kind === 'examined')
    const recordings = examined.map(({ body }: { body: { recording: string } }) => body.recording)
    expect(recordings).toHaveLength(10)
    expect(new Set(recordings).size).toBe(10)
    expect(await json('verify', 'DEMO-1', '--again')).toMatchObject({
      exit: 0,
      intact: { holds: true },
      replayed: { holds: true }
    })
  })

  it('is reported, what was not examined first', async () => {
    const { code, out } = await run('report', 'DEMO-1', '--out', '-')
    expect(code).toBe(0)
    expect(out).toMatch(/^<!doctype html>/i)
    const blocked = await run('report', 'DEMO-1', '--out', join(sheet(), 'report.html'))
    expect(blocked.code).toBe(2)
    expect(blocked.err).toContain('cli/unwritable-file')
    const saved = await json('report', 'DEMO-1', '--out', join(folder, 'out', 'report.html'))
    expect(readFileSync(saved.file, 'utf8')).toContain('DEMO-1')
  })

  it('shows a recording before it is examined, and says what is not certain', async () => {
    const wav = join(folder, 'demo', 'hole-P01.wav')
    const { code, out } = await run('scan', wav)
    expect(code).toBe(1)
    expect(out).toContain('a guess')
    expect(out).toContain('columns: {')
    const absent = await run('scan', join(folder, 'absent.wav'))
    expect(absent.code).toBe(2)
    expect(absent.err).toContain('cli/unreadable-file')
    expect((await run('scan', written('empty.wav', ''))).code).toBe(2)
    const { child, ended } = start(home, ['scan', '-'])
    child.stdin?.end(readFileSync(wav))
    expect((await ended).out).toBe(out.replaceAll(wav, '-'))
    const names = Array.from({ length: 300 }, (_, at) => `c${at}`)
    const wide = await run('scan', written('wide.csv', `${names}\n${names.map(() => 1)}\n${names.map(() => 2)}\n`))
    expect(wide.out.split('\n').length).toBeLessThan(30)
    expect(wide.out).toContain('more columns')
    expect(wide.out).toContain('x: …, y: …')
  })

  it('is handed over, taken in elsewhere, and is the same', async () => {
    const zip = join(folder, 'out', 'DEMO-1.zip')
    const other = join(folder, 'other-home')
    const elsewhere = async (...args: string[]) => JSON.parse((await start(other, [...args, '--json']).ended).out)
    const written = await json('export', 'DEMO-1', '--out', zip)
    expect(written).toMatchObject({ trueloop: 'export/1', exit: 0, job: 'DEMO-1', file: zip })
    const withPdf = await json('export', 'DEMO-1', '--out', join(folder, 'out', 'with-pdf.zip'), '--pdf')
    expect(withPdf.files).toBe(written.files + 1)
    expect((await run('verify', join(folder, 'out', 'with-pdf.zip'))).code).toBe(0)
    const page = (await run('report', 'DEMO-1', '--out', '-')).out
    const [, head = ''] = /Chain head (\d+:[0-9a-f]{64})/.exec(page) ?? []
    expect(await json('verify', 'DEMO-1', '--head', head)).toMatchObject({ exit: 0, intact: { holds: true } })
    expect(await elsewhere('verify', zip, '--head', head)).toMatchObject({ exit: 0, otherwise: [] })
    const foreign = head.replace(/.$/, (last) => (last === '0' ? '1' : '0'))
    expect(await elsewhere('verify', zip, '--head', foreign)).toMatchObject({ exit: 3, intact: { holds: false } })
    expect(await elsewhere('import', zip)).toMatchObject({ trueloop: 'import/1', exit: 0, standing: 'not here' })
    expect(await elsewhere('import', zip)).toMatchObject({ exit: 0, standing: 'the same', added: 0 })
    expect(await elsewhere('export', 'DEMO-1')).toMatchObject({ exit: 0, head: written.head, bytes: written.bytes })
    expect(readFileSync(join(other, 'bundles', 'DEMO-1.zip')).equals(readFileSync(zip))).toBe(true)
    const bytes = readFileSync(zip)
    bytes[bytes.length >> 1] = (bytes[bytes.length >> 1] ?? 0) ^ 1
    writeFileSync(join(folder, 'changed.zip'), bytes)
    expect(await elsewhere('verify', join(folder, 'changed.zip'))).toMatchObject({
      ...{ exit: 2, refusals: [{ code: 'bundle/changed-file' }] }
    })
    expect((await run('export', 'NO-SUCH-JOB')).err).toContain('cli/no-such-job')
  })

  it('is never half a file where the export is killed', async () => {
    const zip = join(folder, 'killed', 'DEMO-1.zip')
    const { child, ended } = start(home, ['export', 'DEMO-1', '--out', zip])
    for (let tries = 0; tries < 2000 && readdirIf(dirname(zip)).length === 0; tries++)
      await new Promise((resolve) => setTimeout(resolve, 1))
    child.kill('SIGKILL')
    await ended
    for (const name of readdirIf(dirname(zip)).filter((one) => one.endsWith('.zip')))
      expect((await run('verify', join(dirname(zip), name))).code).toBe(0)
    expect((await run('export', 'DEMO-1', '--out', zip)).code).toBe(0)
    expect(readdirSync(dirname(zip))).toEqual(['DEMO-1.zip'])
  })

  it('is backed up, drilled, and restored into an empty folder', async () => {
    const backup = join(folder, 'backup')
    expect(await json('backup', backup)).toMatchObject({ trueloop: 'backup/1', exit: 0, there: 0 })
    expect(await json('backup', backup)).toMatchObject({ exit: 0, copied: 0 })
    const { code, out } = await run('backup', backup, '--drill')
    expect(code).toBe(0)
    expect(out).toContain('Shown: all that the archive holds now can be restored')
    const into = join(folder, 'restored-home')
    expect(await json('restore', backup, '--into', into)).toMatchObject({ trueloop: 'restore/1', exit: 0 })
    const verified = await start(into, ['verify', 'DEMO-1', '--again']).ended
    expect(verified.code).toBe(0)
    expect((await run('restore', backup, '--into', into)).err).toContain('bundle/folder-not-empty')
    expect((await run('restore', join(folder, 'nothing'), '--into', join(folder, 'x'))).code).toBe(2)
  })

  it('keeps quiet when nobody reads on', async () => {
    const { child, ended } = start(home, ['record', 'DEMO-1', '--entries', '--json'])
    child.stdout?.destroy()
    const { code, err } = await ended
    expect({ code, err }).toEqual({ code: 1, err: '' })
  })

  it('has every key of its JSON in docs/json.md', async () => {
    const text = readFileSync(join(cloneRoot, 'docs/json.md'), 'utf8')
    const said = [
      await json('plan', sheet()),
      await json('scan', join(folder, 'demo', 'hole-P01.wav')),
      await json('standardize', sheet()),
      await json('examine', sheet(), '--hole', 'P02'),
      await json('record'),
      await json('record', 'DEMO-1'),
      await json('verify', 'DEMO-1'),
      await json('report', 'DEMO-1'),
      await json('export', 'DEMO-1', '--out', join(folder, 'keys.zip')),
      await json('verify', join(folder, 'keys.zip')),
      await json('import', join(folder, 'keys.zip')),
      await json('backup', join(folder, 'keys')),
      await json('backup', join(folder, 'keys'), '--drill'),
      await json('restore', join(folder, 'keys'), '--into', join(folder, 'keys-home')),
      await json('rehearse', join(folder, 'demo'), '--seed', '3')
    ]
    const missing = said.flatMap((one) => keysOf(one).filter((key) => !text.includes(`\`${key}\``)))
    expect([...new Set(missing)]).toEqual([])
    for (const { trueloop } of said) expect(text).toContain(`\`${trueloop}\``)
  })
})

/** Keys that a person chose (roles of columns, details of a format) are values, not keys of ours. */
const chosen = ['details', 'columns', 'body']

const keysOf = (value: unknown): readonly string[] => {
  if (Array.isArray(value)) return value.flatMap(keysOf)
  if (typeof value !== 'object' || value === null) return []
  return Object.entries(value).flatMap(([key, inner]) => [
    key,
    ...(chosen.includes(key) && !Array.isArray(inner) ? [] : keysOf(inner))
  ])
}

/** Waits until the first examination has been recorded: its picture then lies beside the archive. */
async function anExamination(place: string): Promise<void> {
  for (let tries = 0; tries < 6000; tries++) {
    if (readdirIf(join(place, 'archive', 'pictures')).length > 0) return
    await new Promise((resolve) => setTimeout(resolve, 10))
  }
  throw new Error('no examination came')
}

function readdirIf(path: string): readonly string[] {
  try {
    return readdirSync(path)
  } catch {
    return []
  }
}

describe('an archive in the way', () => {
  it('that is damaged ends with 3', async () => {
    const other = join(folder, 'damaged')
    mkdirSync(join(other, 'archive'), { recursive: true })
    writeFileSync(join(other, 'archive', 'archive.db'), 'no database '.repeat(1000))
    const { code, err } = await start(other, ['record']).ended
    expect(code).toBe(3)
    expect(err).toContain('archive/')
  })

  it('that another program has open ends with 3, and names that program', async () => {
    const other = join(folder, 'taken')
    const archive = await openArchive(join(other, 'archive'))
    if (isRefusal(archive)) throw new Error(archive.found)
    const { code, err } = await start(other, ['record']).ended
    await archive.close()
    expect(code).toBe(3)
    expect(err).toContain('archive/locked')
    expect(err).toContain(String(process.pid))
  })

  it('that lacks the job ends with 2', async () => {
    const { code, err } = await run('record', 'NO-SUCH-JOB')
    expect(code).toBe(2)
    expect(err).toContain('cli/no-such-job')
  })
})

describe('a defect of ours', () => {
  it('ends with 70 and says so', async () => {
    const broken = '--import=data:text/javascript,JSON.stringify=()=>{throw(Error("planted"))}'
    const { code, err } = await start(home, ['record', '--json'], { NODE_OPTIONS: broken }).ended
    expect(code).toBe(70)
    expect(err).toContain('defect')
  })
})

describe('the demonstration', () => {
  it('does all once, ends with 0, and records nothing twice', async () => {
    const other = join(folder, 'demonstration')
    const first = await start(other, ['demo', '--once']).ended
    expect(first.code).toBe(0)
    expect(first.out).toContain('DEMONSTRATION')
    expect(readFileSync(/^report: (.*)$/m.exec(first.out)?.[1] ?? '', 'utf8')).toMatch(/^<!doctype html>/i)
    const second = await start(other, ['demo', '--once']).ended
    expect(second.code).toBe(0)
    expect(second.out.match(/record: .*/)?.[0]).toBe(first.out.match(/record: .*/)?.[0])
    const [, passphrase = ''] = /^passphrase of each of them: (.*)$/m.exec(second.out) ?? []
    const signing = ['--disposition', 'reject', '--as', 'Second Demonstration Inspector (invented)']
    const decided = await start(other, ['decide', 'DEMO-1', 'P02', ...signing], { TRUELOOP_PASSPHRASE: passphrase })
      .ended
    expect(decided).toMatchObject({ code: 0, out: expect.stringContaining('hole P02: reject') })
  })
})

needsOutside('trial', 'the trial', (trial) => {
  it('ends with one line of figures, and both faults of the equipment are caught', async () => {
    const { code, out } = await run('trial', trial, '--json')
    expect(code).toBe(0)
    const { holes, welds } = JSON.parse(out.trimEnd().split('\n').at(-1) ?? '')
    const keys = [
      ...['flaws', 'found', 'holes', 'falselyCalledHoles', 'undecidedElsewhere', 'faults', 'faultsCaught'],
      ...['depthMae_mm', 'depthScored', 'lengthMae_mm', 'bounds', 'boundsTrue'],
      ...['sizes', 'withRatio', 'voidedHoles']
    ]
    expect(Object.keys(holes)).toEqual(keys)
    expect(holes).toMatchObject({ flaws: 15, holes: 22, faults: 2, faultsCaught: 2 })
    const ofWelds = ['due', 'foundDue', 'falseCalls', 'endError_mm', 'depthMae_mm', 'coatingMae_mm']
    expect(Object.keys(welds).slice(0, 6)).toEqual(ofWelds)
    expect(welds).toMatchObject({ due: 9, foundDue: 9, depthScored: 8 })
    expect(welds.falseCalls).toBeLessThanOrEqual(1)
    expect(welds.endError_mm).toBeLessThanOrEqual(1.5)
    expect(welds.depthMae_mm).toBeLessThanOrEqual(0.15)
    expect(welds.coatingMedianError_mm).toBeLessThanOrEqual(0.05)
    expect(welds.coatingEndError_mm).toBeLessThanOrEqual(0.1)
  })

  it('is refused where there are no trial recordings', async () => {
    const { code, err } = await run('trial', folder)
    expect(code).toBe(2)
    expect(err).toContain('cli/no-trial')
  })
})
