/**
 * A day with practice among the work, in a real shell. Oracles: the answers that were kept apart, and the rule that nobody
 * who examines is told before they have decided.
 */
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { demoSheet } from '@trueloop/job/rehearse'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { parse, stringify } from 'yaml'
import { start } from './testing/bundle.ts'
import { passphrases, person, registers, used } from './testing/people.ts'

let folder = ''
const at = (...names: readonly string[]): string => join(folder, ...names)
const as = (name: string, ...args: readonly string[]) =>
  start(at('home'), [...args, '--as', name], { TRUELOOP_PASSPHRASE: passphrases[name] ?? '' }).ended
const run = (...args: readonly string[]) => start(at('home'), args, { TRUELOOP_PASSPHRASE: '' }).ended
function written(name: string, value: unknown): string {
  writeFileSync(at(name), stringify(value))
  return at(name)
}

/** The sheet of the demonstration, for a probe whose windings are known; three holes, for speed. */
function withWindings() {
  const { technique, holes, recordings: _, confirmed: __, ...rest } = demoSheet()
  const place = { length_mm: 0.6, lift_off_mm: 0.1 }
  const probe = {
    ...({ mean_coil_radius_mm: 0.85, fit: 'follows the wall' } as const),
    winding: { inner_radius_mm: 0.7, outer_radius_mm: 1, turns: 80, ...place },
    pick_ups: { inner_radius_mm: 0.4, outer_radius_mm: 0.65, turns: 60, ...place }
  }
  return { ...rest, technique: { ...technique, probe, approver: 'C. Level' }, holes: holes.slice(0, 3), recordings: [] }
}

interface Place {
  readonly name: string
  readonly state: string
  readonly open: readonly string[]
}

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'trueloop-practice-'))
  await start(at('home'), ['key', 'new', 'B. Two'], { TRUELOOP_PASSPHRASE: passphrases['B. Two']! }).ended
  const people = registers(person('C. Level', 'III'), person('B. Two', 'II'))
  expect(await as('C. Level', 'register', written('people.yaml', people))).toMatchObject({ code: 0 })
  expect(await run('rehearse', at('job'), '--for', written('for.yaml', withWindings()), '--seed', '3')).toMatchObject({
    code: 0
  })
}, 120_000)
afterAll(() => rmSync(folder, { recursive: true, force: true }))

describe('practice among the work', () => {
  it('is mixed in, examined like the rest, kept from those who decide, and marked before the job is closed', async () => {
    const answers = at('kept', 'answers.json')
    const mixed = ['prove', 'mix', at('job', 'job.yaml'), '--into', at('mixed'), '--answers', answers]
    expect(await run(...mixed, '--count', '2', '--seed', '5')).toMatchObject({ code: 0, err: '' })
    const { confirmed: _, ...sheet } = parse(readFileSync(at('mixed', 'job.yaml'), 'utf8'))
    const day = { ...sheet, people: [{ name: 'B. Two', level: 'II' }], examined_by: 'B. Two' }
    const job = sheet.job.id as string
    const path = at('mixed', 'day.yaml')
    writeFileSync(path, stringify(day))
    expect(await run('plan', path)).toMatchObject({ code: 1 })
    expect(await as('C. Level', 'approve', job)).toMatchObject({ code: 0, err: '' })
    expect(await as('C. Level', 'register', written('used.yaml', used(day)))).toMatchObject({ code: 0 })
    const examined = await run('examine', path)
    expect(examined.out).toContain('PRACTICE: 2 of these places are practice and not marked yet')
    const marks = ['prove', 'mark', job, '--answers', answers]
    const { places } = JSON.parse((await run('record', job, '--json')).out).summary as { places: readonly Place[] }
    const told = JSON.parse(readFileSync(answers, 'utf8')).places as readonly { name: string; flawed: boolean }[]
    const practice = told.map(({ name }) => name)
    const open = places.filter((place) => place.open.length > 0)
    const found = open.filter(({ name }) => practice.includes(name)).map(({ name }) => name)
    expect(found).toContain(told.find(({ flawed }) => flawed)?.name)
    expect((await as('C. Level', ...marks)).err).toContain('refused: record/undecided')
    for (const { name } of open)
      expect(
        await as('B. Two', 'decide', job, name, '--disposition', 'refer', '--reason', 'to be looked at by others')
      ).toMatchObject({ code: 0 })
    for (const { name } of places.filter((place) => place.open.length === 0)) await as('B. Two', 'close', job, name)
    expect((await run('report', job, '--out', '-')).out).toContain('Practice is mixed in, and not marked yet')
    expect((await as('B. Two', 'close', job, '--whole-job')).err).toContain('refused: record/practice-not-marked')
    const spoiled = at('spoiled.json')
    writeFileSync(spoiled, readFileSync(answers, 'utf8').replace('"seed": 5', '"seed": 6'))
    expect((await as('C. Level', 'prove', 'mark', job, '--answers', spoiled)).err).toContain(
      'refused: record/other-answers'
    )
    expect(await as('C. Level', ...marks)).toMatchObject({ code: 0, err: '' })
    const watched = await run('prove', 'monitor', '--confidence', '0.95')
    expect(watched.out).toMatch(/B\. Two +1 of 1 /)
    expect(watched.out).toContain('it proves no capability')
    const report = (await run('report', job, '--out', '-')).out
    expect(report).toContain('Practice mixed in')
    for (const name of practice) expect(report).toContain(name)
    expect(await run('verify', job)).toMatchObject({ code: 0 })
    expect(await run('export', job, '--out', at('day.zip'))).toMatchObject({ code: 0 })
    expect(await run('verify', at('day.zip'))).toMatchObject({ code: 0, err: '' })
    const elsewhere = (...args: readonly string[]) => start(at('other'), args, { TRUELOOP_PASSPHRASE: '' }).ended
    expect(await elsewhere('import', at('day.zip'))).toMatchObject({ code: 0, err: '' })
    expect(await elsewhere('verify', job)).toMatchObject({ code: 0, err: '' })
  }, 240_000)
})
