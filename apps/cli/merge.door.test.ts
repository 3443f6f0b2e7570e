import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { parse, stringify } from 'yaml'
import { start } from './testing/bundle.ts'

/** Two devices in a real shell. Oracle: the heads that each of them printed before; what both have examined is examined. */

let folder = ''
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'trueloop-merge-'))
})
afterAll(() => rmSync(folder, { recursive: true }))

const secret = { TRUELOOP_PASSPHRASE: 'three level words of an invented person' }
const at = (device: string, ...args: string[]) => start(join(folder, device), args, secret).ended
const path = (name: string) => join(folder, name)

const person = {
  ...{ name: 'C. Level', method: 'eddy current', level: 'III' },
  certificate: { number: 'INV-1', issued: '2020-01-01', expires: '2099-12-31' },
  near_vision: { examined: '2020-01-01', expires: '2099-12-31' }
}

/** The demonstration's sheet with some of its recordings, in a job that asks for no registers. */
function sheet(name: string, files: readonly string[]): string {
  const whole = parse(readFileSync(path('demo/job.yaml'), 'utf8'))
  const recordings = whole.recordings.filter(({ file }: { file: string }) => files.includes(file))
  writeFileSync(path(`demo/${name}.yaml`), stringify({ ...whole, recordings }))
  return path(`demo/${name}.yaml`)
}

const begun = ['reference-start.wav', 'hole-P01.wav']

async function headOf(device: string): Promise<string> {
  const { summary } = JSON.parse((await at(device, 'record', 'DEMO-1', '--json')).out)
  return summary.head
}

describe('two devices that worked on one job', () => {
  it('are brought together by a person; both heads stay, and what both examined counts', async () => {
    expect((await at('a', 'rehearse', path('demo'))).code).toBe(0)
    await at('a', 'examine', sheet('begun', begun))
    expect((await at('a', 'export', 'DEMO-1', '--out', path('begun.zip'))).code).toBe(0)
    expect((await at('b', 'import', path('begun.zip'))).code).toBe(0)
    await at('a', 'examine', sheet('a', [...begun, 'hole-P02.wav']))
    await at('b', 'examine', sheet('b', [...begun, 'hole-P03.wav']))
    expect((await at('b', 'export', 'DEMO-1', '--out', path('b.zip'))).code).toBe(0)
    const heads = [await headOf('a'), await headOf('b')]
    expect((await at('a', 'import', path('b.zip'))).err).toContain('refused: bundle/forked')
    expect((await at('a', 'import', path('b.zip'), '--merge')).code).not.toBe(0)

    expect((await at('a', 'key', 'new', 'C. Level')).code).toBe(0)
    writeFileSync(path('people.yaml'), stringify({ trueloop: 'registers/1', people: [person] }))
    expect(await at('a', 'register', path('people.yaml'), '--as', 'C. Level')).toMatchObject({ code: 0 })
    const how = ['--merge', '--as', 'C. Level', '--reason', 'two teams', '--clocks-within-s', '1']
    const merged = await at('a', 'import', path('b.zip'), ...how)
    expect(merged).toMatchObject({ code: 0, err: '' })
    expect(merged.out).toContain('both chains are kept')

    const { out } = await at('a', 'verify', 'DEMO-1', '--again', '--json')
    expect(JSON.parse(out)).toMatchObject({
      intact: { holds: true, faults: [] },
      replayed: { holds: true, faults: [] }
    })
    const { summary } = JSON.parse((await at('a', 'record', 'DEMO-1', '--json')).out)
    const examined = summary.places.filter(({ state }: { state: string }) => state !== 'not examined')
    expect(examined.map(({ name }: { name: string }) => name)).toEqual(['P01', 'P02', 'P03'])
    const html = readFileSync(await reportPath(), 'utf8')
    for (const head of heads) expect(html).toContain(head.split(':').at(-1))
    expect((await at('a', 'import', path('b.zip'), ...how)).err).toContain('refused: bundle/nothing-to-merge')
  }, 180_000)
})

async function reportPath(): Promise<string> {
  const { out } = await at('a', 'report', 'DEMO-1', '--json')
  return JSON.parse(out).file
}
