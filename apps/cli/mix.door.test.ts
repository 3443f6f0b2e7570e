/**
 * The bundled program mixes practice into a job. Oracles: node:crypto for hashes, the bytes of the recordings before, and
 * that the words of the answers stand nowhere else.
 */
import { createHash } from 'node:crypto'
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { demoSheet, writeWave } from '@trueloop/job/rehearse'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { parse } from 'yaml'
import { type Ended, start } from './testing/bundle.ts'

let folder = ''
const at = (...names: readonly string[]): string => join(folder, ...names)
const run = (...args: readonly string[]): Promise<Ended> => start(at('home'), args).ended
const sha256 = (bytes: Uint8Array | string): string => createHash('sha256').update(bytes).digest('hex')

const mix = (sheet: string, into: string, answers: string, count = '4') =>
  run('prove', 'mix', sheet, '--into', into, '--answers', answers, '--count', count, '--seed', '5', '--json')

interface Said {
  readonly refusals: readonly { readonly code: string }[]
  readonly files: { readonly sheet: string; readonly answers: string }
  readonly count: number
}

const said = ({ out }: Ended): Said => JSON.parse(out) as Said
const codesOf = (ended: Ended): readonly string[] => said(ended).refusals.map(({ code }) => code)

/** The sheet of the demonstration, for a probe whose windings are known; four holes and no more, for speed. */
function withWindings() {
  const { technique, holes, recordings: _, ...rest } = demoSheet()
  const place = { length_mm: 0.6, lift_off_mm: 0.1 }
  const probe = {
    ...({ mean_coil_radius_mm: 0.85, fit: 'follows the wall' } as const),
    winding: { inner_radius_mm: 0.7, outer_radius_mm: 1, turns: 80, ...place },
    pick_ups: { inner_radius_mm: 0.4, outer_radius_mm: 0.65, turns: 60, ...place }
  }
  return { ...rest, technique: { ...technique, probe }, holes: holes.slice(0, 4), recordings: [] }
}

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'trueloop-mix-door-'))
  writeFileSync(at('for.json'), JSON.stringify(withWindings()))
  const made = await run('rehearse', at('job'), '--for', at('for.json'), '--seed', '3')
  if (made.code !== 0) throw new Error(made.err)
}, 60_000)
afterAll(() => rmSync(folder, { recursive: true, force: true }))

describe('practice mixed into a job', () => {
  it('has the recordings of the job as they were, and tells nothing but the number', async () => {
    const ended = await mix(at('job', 'job.yaml'), at('mixed'), at('kept', 'answers.json'))
    expect({ code: ended.code, err: ended.err }).toEqual({ code: 0, err: '' })
    expect(said(ended)).toMatchObject({
      files: { sheet: at('mixed', 'job.yaml'), answers: at('kept', 'answers.json') },
      count: 4
    })
    const wavesOf = (name: string): readonly string[] => readdirSync(at(name)).filter((one) => one.endsWith('.wav'))
    const before = wavesOf('job')
    for (const file of before)
      expect(sha256(readFileSync(at('mixed', file)))).toBe(sha256(readFileSync(at('job', file))))
    expect(wavesOf('mixed').length).toBe(before.length + 4)
    expect(readdirSync(folder).some((one) => one.endsWith('.unfinished'))).toBe(false)
    const sheet = readFileSync(at('mixed', 'job.yaml'), 'utf8')
    const answers = JSON.parse(readFileSync(at('kept', 'answers.json'), 'utf8'))
    expect((parse(sheet) as { practice: unknown }).practice).toEqual({ count: 4, answers: sha256(sorted(answers)) })
    for (const { name, what } of answers.places) {
      expect(sheet).not.toContain(what)
      expect(ended.out).not.toContain(what)
      expect(ended.out).not.toContain(name)
    }
  })

  it('is never written over, and leaves nothing where it is refused', async () => {
    const sheet = at('job', 'job.yaml')
    expect(codesOf(await mix(sheet, at('mixed'), at('kept', 'b.json')))).toEqual(['cli/folder-not-empty'])
    expect(codesOf(await mix(sheet, at('m2'), at('kept', 'answers.json')))).toEqual(['cli/folder-not-empty'])
    writeFileSync(at('a-file'), 'kept')
    expect(codesOf(await mix(sheet, at('a-file'), at('kept', 'b.json')))).toEqual(['cli/folder-not-empty'])
    expect((await run('rehearse', at('a-file'))).err).toContain('refused: cli/folder-not-empty')
    expect(readFileSync(at('a-file'), 'utf8')).toBe('kept')
    expect(codesOf(await mix(sheet, at('m2'), at('m2', 'deep', 'b.json')))).toEqual(['cli/answers-with-trial'])
    expect(codesOf(await mix(sheet, at('m2'), at('b.json'), 'two'))).toEqual(['rehearse/other-count'])
    expect(codesOf(await mix(at('mixed', 'job.yaml'), at('m2'), at('b.json')))).toEqual(['rehearse/mixed-before'])
    expect([existsSync(at('m2')), existsSync(at('b.json')), existsSync(at('kept', 'b.json'))]).toEqual([
      false,
      false,
      false
    ])
  })

  it('needs recordings that it can be like, within the folder of the job', async () => {
    const text = readFileSync(at('job', 'job.yaml'), 'utf8')
    const more = Array.from({ length: 4 }, () => Float64Array.of(0, 0.5, 1, 0.25))
    writeFileSync(at('job', 'four.wav'), Buffer.concat([...writeWave(9500, more, 'float32')]))
    writeFileSync(at('job', 'four.yaml'), text.replace('reference-start.wav', 'four.wav'))
    expect(codesOf(await mix(at('job', 'four.yaml'), at('m3'), at('c.json')))).toEqual(['cli/other-form'])
    writeFileSync(at('job', 'out.yaml'), text.replace('hole-2.wav', '../hole-2.wav'))
    expect(codesOf(await mix(at('job', 'out.yaml'), at('m3'), at('c.json')))).toEqual(['cli/recording-elsewhere'])
    writeFileSync(at('job', 'gone.yaml'), text.replace('hole-2.wav', 'gone.wav'))
    expect(codesOf(await mix(at('job', 'gone.yaml'), at('m3'), at('c.json')))).toEqual(['cli/unreadable-file'])
    expect([existsSync(at('m3')), existsSync(at('m3.unfinished')), existsSync(at('c.json'))]).toEqual([
      false,
      false,
      false
    ])
  })
})

/** Canonical JSON of plain ASCII keys and whole numbers: keys in order, no blanks. */
const sorted = (value: unknown): string =>
  JSON.stringify(value, (_, one: unknown) =>
    typeof one === 'object' && one !== null && !Array.isArray(one)
      ? Object.fromEntries(Object.entries(one).sort(([a], [b]) => (a < b ? -1 : 1)))
      : one
  )
