import { mkdtempSync, readFileSync, rmSync, truncateSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Refusal } from '@trueloop/ground/refusal'
import { type Sheet, sheetJsonSchema } from '@trueloop/job/plan'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { parse } from 'yaml'
import { cloneRoot } from '../../house/outside.ts'
import { readSheetFile, readSheetText, sheetText } from './index.ts'

const sample = (name: string) => readFileSync(join(cloneRoot, 'docs/samples', `${name}.yaml`), 'utf8')
const hole = sample('hole-job')

const read = (text: string): readonly Refusal[] => {
  const reading = readSheetText(text, 'job.yaml')
  return 'refusals' in reading ? reading.refusals : []
}

/** Where a text stands in the sheet, counted here, not by the parser. */
function placeOf(text: string, part: string) {
  const before = text.slice(0, text.indexOf(part)).split('\n')
  return { file: 'job.yaml', line: before.length, column: (before.at(-1) ?? '').length + 1 }
}

describe('a job sheet', () => {
  it.each(['hole-job', 'weld-job', 'loop-job'])('sample %s is sound', (name) => {
    expect(readSheetText(sample(name), name)).toHaveProperty('sheet')
  })

  it('reads the same from JSON', () => {
    const yaml = readSheetText(hole, 'job.yaml')
    if ('refusals' in yaml) throw new Error('unreadable sample')
    for (const indent of [0, 2, '\t']) {
      const json = readSheetText(JSON.stringify(yaml.sheet, null, indent), 'job.json')
      expect('sheet' in json && json.sheet).toEqual(yaml.sheet)
    }
  })

  it('is written so that it is read back', () => {
    const { sheet } = readSheetText(hole, 'job.yaml') as { sheet: Sheet }
    const again = readSheetText(sheetText(sheet, 'a comment'), 'job.yaml')
    expect('sheet' in again && again.sheet).toEqual(sheet)
  })

  it('puts every refusal at its line and column, all in one go', () => {
    const text = hole
      .replace('hangar 2', 'hangar 2\n  plase: nowhere')
      .replace('hole: W-02', 'hole: W-99')
      .replace('T09:20:00', 'T08:20:00')
    const refusals = read(text)
    expect(refusals.map(({ code }) => code)).toEqual([
      ...['plan/unknown-key', 'plan/unknown-hole', 'plan/dates-out-of-order']
    ])
    expect(refusals[0]?.where).toMatchObject(placeOf(text, 'plase'))
    expect(refusals[0]?.remedy).toContain('"place"')
    expect(refusals[1]?.where).toMatchObject(placeOf(text, 'hole: W-99'))
    expect(refusals[2]?.where).toMatchObject(placeOf(text, 'taken: "2026-03-14T08'))
  })

  it('names the place where something is missing by the nearest that is there', () => {
    const text = hole.replace('  frequency_kHz: 500\n', '')
    const [refusal] = read(text)
    expect(refusal).toMatchObject({ code: 'plan/missing-value', where: placeOf(text, 'technique:') })
    expect(refusal?.needed).toContain('kHz')
  })

  it('follows an alias to its place', () => {
    const text = `${hole.replace('columns: {', 'columns: &c {')}`.replace(
      'file: w-01.wav',
      'columns: *c, file: w-01.wav'
    )
    expect(read(text)).toEqual([])
  })
})

describe('what is no sheet', () => {
  let folder = ''
  beforeAll(() => {
    folder = mkdtempSync(join(tmpdir(), 'trueloop-sheet-'))
  })
  afterAll(() => rmSync(folder, { recursive: true }))

  const codeOf = async (name: string, content?: string | Uint8Array) => {
    const path = join(folder, name)
    if (content !== undefined) writeFileSync(path, content)
    const reading = await readSheetFile(path)
    return 'refusals' in reading ? reading.refusals.map(({ code }) => code) : []
  }

  it('is refused with its reason', async () => {
    expect(await codeOf('absent.yaml')).toEqual(['sheet/no-file'])
    expect(await codeOf('folder/')).toEqual(['sheet/no-file'])
    expect(await codeOf('empty.yaml', '# nothing\n')).toEqual(['sheet/empty'])
    expect(await codeOf('wave.wav', new Uint8Array([82, 73, 70, 70, 0xff, 0xfe, 0, 0xc0]))).toEqual(['sheet/not-text'])
    writeFileSync(join(folder, 'large.yaml'), '')
    truncateSync(join(folder, 'large.yaml'), 64 * 1024 * 1024 + 1)
    expect(await codeOf('large.yaml')).toEqual(['sheet/too-large'])
  })

  it('is refused where its YAML breaks, with line and column', () => {
    const [refusal] = read('trueloop: job/1\njob: { id: "A\npeople: [\n')
    expect(refusal).toMatchObject({ code: 'sheet/not-yaml', where: { file: 'job.yaml' } })
    expect(refusal?.where?.line).toBeGreaterThan(1)
  })

  it('is refused with the same key twice, at the second', () => {
    const [refusal] = read('trueloop: job/1\njob: {}\njob: {}\n')
    expect(refusal).toMatchObject({ code: 'sheet/not-yaml', where: { line: 3, column: 1 } })
  })

  it('is refused when its aliases grow without end', () => {
    const rows = ['a0: &a0 [x]']
    for (let at = 1; at < 12; at++) rows.push(`a${at}: &a${at} [${`*a${at - 1},`.repeat(9)}*a${at - 1}]`)
    expect(read(rows.join('\n')).map(({ code }) => code)).toEqual(['sheet/not-yaml'])
  })

  it('is refused when it is a list, a text or says no application', () => {
    for (const text of ['- a\n', 'text\n', '{}', 'technique: 3', 'technique: { application: pipe }'])
      expect(read(text).map(({ where }) => where?.path)).toEqual(['technique.application'])
  })
})

describe('the published schema', () => {
  it('is the current one: trueloop plan --schema > docs/schema/job-1.schema.json', () => {
    const published = readFileSync(join(cloneRoot, 'docs/schema/job-1.schema.json'), 'utf8')
    expect(JSON.parse(published)).toEqual(sheetJsonSchema())
  })

  // the judge is another implementation of JSON Schema (Ajv), which comes with the HTTP server
  it('takes the samples, and not what the reader refuses', async () => {
    const { Ajv2020 } = await import('ajv/dist/2020.js')
    const ajv = new Ajv2020({ strict: false, validateFormats: false })
    const validate = ajv.compile(sheetJsonSchema())
    for (const name of ['hole-job', 'weld-job', 'loop-job']) {
      const value = parse(sample(name))
      expect({ name, valid: validate(value) }).toEqual({ name, valid: true })
      expect(validate({ ...value, job: { ...value.job, plase: 'x' } })).toBe(false)
      expect(validate({ ...value, examined_by: undefined })).toBe(false)
    }
  })
})
