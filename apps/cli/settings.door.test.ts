/** The bundled program, planning a draft. Oracle: the sample sheet of the guide, and the archive that must stay as it is. */
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { cloneRoot } from '../../house/outside.ts'
import { type Ended, start } from './testing/bundle.ts'

let folder = ''
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'trueloop-settings-door-'))
})
afterAll(() => rmSync(folder, { recursive: true, force: true }))

const sample = join(cloneRoot, 'docs/samples/hole-job.yaml')
const home = () => join(folder, 'home')
const run = (args: readonly string[]): Promise<Ended> => start(home(), ['plan', ...args]).ended

describe('settings', () => {
  it('are said, with sweeps as CSV and the technique sheet, and nothing is recorded', async () => {
    const [sweep, sheet] = [join(folder, 'sweeps.csv'), join(folder, 'technique.html')]
    const { code, out, err } = await run([sample, '--settings', '--sweep', sweep, '--sheet', sheet])
    expect({ code, err }).toEqual({ code: 0, err: '' })
    expect(out).toMatch(/flaw sought in the worst allowed case +0\.\d\d of the alarm notch/)
    expect(out).toContain('nothing here is a setting before a named person has confirmed it')
    expect(readFileSync(sweep, 'utf8')).toMatch(/^zones,over,value,unit,/)
    expect(readFileSync(sheet, 'utf8')).toContain('no guarantee of detection')
    expect(existsSync(home())).toBe(false)
  })

  it('of two techniques stand beside each other, in JSON with all lines', async () => {
    const other = join(folder, 'other.yaml')
    writeFileSync(other, readFileSync(sample, 'utf8').replace('rotation_rpm: 1500', 'rotation_rpm: 3000'))
    const { code, out } = await run([sample, '--settings', '--beside', other, '--json'])
    expect(code).toBe(0)
    const said = JSON.parse(out)
    expect(said.trueloop).toBe('settings/1')
    const apart = said.lines.filter(({ differs }: { differs: boolean }) => differs)
    expect(apart).toContainEqual(
      expect.objectContaining({ label: 'rotation', first: '1500 rpm', second: '3000 rpm', differs: true })
    )
  })

  it('need the coil: without it they are refused in three parts, and a technique sheet says that they were', async () => {
    const bare = join(folder, 'bare.yaml')
    const text = readFileSync(sample, 'utf8').replace(/ {4}winding: .*\n/, '')
    writeFileSync(bare, text)
    const sheet = join(folder, 'bare.html')
    const { code, err } = await run([bare, '--settings', '--sheet', sheet])
    expect(code).toBe(2)
    expect(err).toContain('refused: plan/no-winding')
    expect(err).toMatch(/found: +\S[\s\S]*needed: +\S[\s\S]*what to do: +\S/)
    expect(readFileSync(sheet, 'utf8')).toContain('No settings were worked out')
  })

  it('are asked for by name: what goes with them alone is refused', async () => {
    const { code, err } = await run([sample, '--sweep', join(folder, 'x.csv')])
    expect(code).toBe(64)
    expect(err).toContain('go with --settings')
    expect(existsSync(join(folder, 'x.csv'))).toBe(false)
  })
})

describe('practice', () => {
  it('is made for a technique, examined like any job, and its cracks stand in truth.json', async () => {
    const made = join(folder, 'practice')
    const home = join(folder, 'practice-home')
    const { code, err } = await start(home, ['rehearse', made, '--for', sample, '--seed', '3']).ended
    expect({ code, err }).toEqual({ code: 0, err: '' })
    const truth = JSON.parse(readFileSync(join(made, 'truth.json'), 'utf8'))
    const holes = Object.entries(truth.recordings).filter(([file]) => file.startsWith('hole')) as [
      string,
      { flaws: [] }
    ][]
    expect(holes.flatMap(([, { flaws }]) => flaws).length).toBeGreaterThan(0)
    const again = await start(home, ['rehearse', made, '--for', sample, '--seed', '3']).ended
    expect(again.out).toContain('made before')
    const other = await start(home, ['rehearse', made, '--seed', '3']).ended
    expect(other.err).toContain('refused: cli/folder-not-empty')
    const examined = await start(home, ['examine', join(made, 'job.yaml'), '--json']).ended
    const { outcomes } = JSON.parse(examined.out)
    const did = outcomes.map((one: { did: string }) => one.did)
    expect(did.slice(0, 3)).toEqual(['standardized', 'examined', 'examined'])
    expect(outcomes).toHaveLength(4)
  })
})
