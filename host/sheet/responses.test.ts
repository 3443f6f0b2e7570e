import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { responsesOf } from '@trueloop/job/plan'
import { demoSheet } from '@trueloop/job/rehearse'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { readSheetFile } from './index.ts'

const ratio = `trueloop: response-ratio/1
name: corner cracks
kinds: [corner]
metal: aluminum
frequency_kHz: { least: 400, most: 600 }
probe_type: differential
depth_mm: { least: 0.3, most: 1.4 }
cracks: 14
source: report 12
approved: { by: B, level: III, on: 2026-03-14 }
ratio: 0.74
spread: 0.06
`

let folder = ''
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'trueloop-responses-'))
})
afterEach(() => rmSync(folder, { recursive: true }))

const read = (document: string | undefined, lists: object = { response_ratios: ['ratio.yaml'] }) => {
  if (document !== undefined) writeFileSync(join(folder, 'ratio.yaml'), document)
  writeFileSync(join(folder, 'job.json'), JSON.stringify({ ...demoSheet(), ...lists }, null, 2))
  return readSheetFile(join(folder, 'job.json'))
}

const refused = async (...args: Parameters<typeof read>) => {
  const reading = await read(...args)
  return 'refusals' in reading ? reading.refusals : []
}

describe('documents that a sheet names by their files', () => {
  it('are read from its folder into it', async () => {
    const reading = await read(ratio)
    if (!('sheet' in reading)) throw new Error('refused')
    expect(responsesOf(reading.sheet).ratios).toMatchObject([{ name: 'corner cracks', ratio: 0.74 }])
  })

  it('are refused where there are none, or no YAML', async () => {
    expect(await refused(undefined)).toMatchObject([{ code: 'sheet/no-file' }])
    expect(await refused('a: [')).toMatchObject([
      { code: 'sheet/not-yaml', where: { file: join(folder, 'ratio.yaml') } }
    ])
  })

  it('are refused at line and column of their own file', async () => {
    const all = await refused(ratio.replace('spread: 0.06', 'spraed: 0.06'))
    const refusal = all.find(({ code }) => code === 'plan/unknown-key')
    // counted by hand: the twelfth line
    expect(refusal).toMatchObject({ code: 'plan/unknown-key', where: { file: join(folder, 'ratio.yaml'), line: 12 } })
  })

  it('are refused in the other list, at the line of the sheet', async () => {
    const [refusal] = await refused(ratio, { response_studies: ['ratio.yaml'] })
    expect(refusal).toMatchObject({ code: 'plan/document-not-read', where: { file: join(folder, 'job.json') } })
    expect(refusal?.where?.line).toBeGreaterThan(1)
  })

  it('are checked again in their sheet: one name for one document', async () => {
    writeFileSync(join(folder, 'other.yaml'), ratio)
    const refusals = await refused(ratio, { response_ratios: ['ratio.yaml', 'other.yaml'] })
    expect(refusals.map(({ code }) => code)).toEqual(['plan/double-name'])
  })
})
