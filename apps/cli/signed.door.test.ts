import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { parse, stringify } from 'yaml'
import { start } from './testing/bundle.ts'
import { passphrases, person, registers, used } from './testing/people.ts'

/** A day as people have it, in a real shell. Oracles: the rules of the trade; the truth of the demonstration's holes. */

let folder = ''
const home = () => join(folder, 'home')

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'trueloop-signed-'))
})
afterAll(() => rmSync(folder, { recursive: true }))

const as = async (name: string, ...args: string[]) =>
  start(home(), [...args, '--as', name], { TRUELOOP_PASSPHRASE: passphrases[name] ?? '' }).ended

const run = (...args: string[]) => start(home(), args, { TRUELOOP_PASSPHRASE: '' }).ended

function written(name: string, value: unknown): string {
  const path = join(folder, name)
  writeFileSync(path, stringify(value))
  return path
}

const sheetPath = () => join(folder, 'demo', 'day.yaml')

describe('people and their keys', () => {
  it('the first registers themself as a Level III, and then the others', async () => {
    const others = [person('B. Two', 'II'), person('D. Other', 'II')]
    for (const { name } of others) {
      const { code } = await start(home(), ['key', 'new', name], { TRUELOOP_PASSPHRASE: passphrases[name]! }).ended
      expect(code).toBe(0)
    }
    const path = written('people.yaml', registers(person('C. Level', 'III'), ...others))
    const done = await as('C. Level', 'register', path)
    expect(done).toMatchObject({ code: 0 })
    expect((await run('register')).out).toContain('B. Two')
  })

  it.each<[string, string, readonly string[]]>([
    ['signing/not-registered', 'Z. Nobody', []],
    ['cli/no-passphrase', 'B. Two', ['--passphrase-file', '']],
    ['keys/wrong-passphrase', 'B. Two', []]
  ])('%s', async (code, name) => {
    const phrase =
      code === 'cli/no-passphrase' ? '' : code === 'keys/wrong-passphrase' ? 'not the right words' : 'any words at all'
    const { err } = await start(home(), ['close', 'DAY-1', 'P01', '--as', name], { TRUELOOP_PASSPHRASE: phrase }).ended
    expect(err).toContain(`refused: ${code}`)
  })

  it('nobody signs with a certificate that has run out, or without a key', async () => {
    const late = person('L. Late', 'II', { near_vision: { examined: '2020-01-01', expires: '2020-12-31' } })
    const passphrase = { TRUELOOP_PASSPHRASE: 'late words of an invented person' }
    const first = await as('C. Level', 'register', written('late.yaml', registers(late)))
    expect(first.err).toContain('cli/no-key')
    await start(home(), ['key', 'new', 'L. Late'], passphrase).ended
    expect(await as('C. Level', 'register', written('late.yaml', registers(late)))).toMatchObject({ code: 0 })
    const { err } = await start(home(), ['close', 'DAY-1', 'P01', '--as', 'L. Late'], passphrase).ended
    expect(err).toContain('signing/person-expired')
  })
})

describe('a day', () => {
  it('is opened, and examined only by a technique that the Level III has signed for', async () => {
    expect((await run('rehearse', join(folder, 'demo'))).code).toBe(0)
    const { confirmed: _, drawings: __, ...sheet } = parse(readFileSync(join(folder, 'demo', 'job.yaml'), 'utf8'))
    const files = ['reference-start.wav', 'hole-P01.wav', 'hole-P02.wav', 'recheck-1.wav']
    const day = {
      ...sheet,
      job: { ...sheet.job, id: 'DAY-1' },
      ...{ people: [{ name: 'B. Two', level: 'II' }], examined_by: 'B. Two' },
      technique: { ...sheet.technique, approver: 'C. Level', second_look: 'what was found' },
      holes: sheet.holes.filter(({ id }: { id: string }) => id === 'P01' || id === 'P02' || id === 'P04'),
      recordings: sheet.recordings.filter(({ file }: { file: string }) => files.includes(file))
    }
    writeFileSync(sheetPath(), stringify(day))
    expect(await run('plan', sheetPath())).toMatchObject({ code: 1 })
    expect((await run('examine', sheetPath())).err).toContain('refused: chain/not-approved')
    expect((await as('B. Two', 'approve', 'DAY-1')).err).toContain('refused: record/no-right')
    expect(await as('C. Level', 'approve', 'DAY-1')).toMatchObject({ code: 0, err: '' })
    const unknown = await run('examine', sheetPath())
    expect(unknown.err).toContain('refused: plan/not-registered')
    expect(await as('C. Level', 'register', written('used.yaml', used(day)))).toMatchObject({ code: 0 })
    expect((await run('examine', sheetPath())).code).toBe(1)
  })

  it('ends with decisions of people, a second look by another, and a closed job', async () => {
    const { summary } = JSON.parse((await run('record', 'DAY-1', '--json')).out)
    const open = summary.places.find(({ name }: { name: string }) => name === 'P02').open as string[]
    expect(open.length).toBeGreaterThan(0)
    const undecided = open.filter((one) => !one.includes(', relevant:')).map((one) => one.split(',')[0]!)
    const classes = undecided.flatMap((id) => ['--class', `${id}=nonrelevant`])
    const reason = ['--reason', 'seen with the borescope: no edge there']
    expect((await as('B. Two', 'close', 'DAY-1', 'P02')).err).toContain('refused: record/place-open')
    const decided = await as('B. Two', 'decide', 'DAY-1', 'P02', ...classes, '--disposition', 'reject', ...reason)
    expect(decided).toMatchObject({ code: 0 })
    expect(decided.out).toContain('hole P02: reject')
    expect((await as('B. Two', 'decide', 'DAY-1', 'P02', '--second-look', 'agrees')).err).toContain(
      'record/same-person'
    )
    expect(await as('D. Other', 'decide', 'DAY-1', 'P02', '--second-look', 'agrees')).toMatchObject({ code: 0 })
    expect(await as('B. Two', 'close', 'DAY-1', 'P01', 'P02')).toMatchObject({ code: 0, err: '' })
    expect((await as('B. Two', 'close', 'DAY-1', '--whole-job')).err).toContain('refused: record/job-open')
    const left = ['--leave-out', '--reason', 'no access before the next shift']
    expect(await as('B. Two', 'close', 'DAY-1', 'P04', ...left)).toMatchObject({ code: 0 })
    expect(await as('B. Two', 'hand', 'DAY-1', '--to', 'D. Other', '--note', 'P04 is left out')).toMatchObject({
      code: 0
    })
    expect(await as('D. Other', 'hand', 'DAY-1', '--take')).toMatchObject({ code: 0 })
    const end = await as('D. Other', 'close', 'DAY-1', '--whole-job', '--json')
    expect(JSON.parse(end.out)).toMatchObject({ trueloop: 'stated/1', exit: 0, added: ['job-closed'] })
    const verified = await run('verify', 'DAY-1')
    expect(verified).toMatchObject({ code: 0 })
    expect(verified.out).toMatch(/registers: \d+ signatures, each by a person as the register had them then/)
    expect(await run('export', 'DAY-1', '--out', join(folder, 'day.zip'))).toMatchObject({ code: 0 })
    expect((await run('verify', join(folder, 'day.zip'))).out).toContain('signatures, not checked against a register')
    const report = await run('report', 'DAY-1', '--out', '-')
    expect(report.out).toContain('Decisions of people')
    expect(report.out).toContain('certificate from 2020-01-01 to 2099-12-31')
    expect(report.out).toContain('no access before the next shift')
  }, 240_000)

  it('leaves out nothing by wrong use', async () => {
    const wrong = [
      ['close', 'DAY-1', 'P01', '--whole-job'],
      ['close', 'DAY-1', 'P01', '--leave-out'],
      ['decide', 'DAY-1', 'P01'],
      ['decide', 'DAY-1', 'P01', '--class', 'P01/1=harmless'],
      ['hand', 'DAY-1', '--to', 'D. Other'],
      ['approve', 'DAY-1', '--capability', 'x']
    ]
    for (const args of wrong) expect((await as('B. Two', ...args)).code).toBe(64)
    expect((await run('close', 'DAY-1', 'P01')).code).toBe(64)
  })
})
