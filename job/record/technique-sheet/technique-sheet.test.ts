/** Oracle: what the technique and its settings say, looked for in the blocks; cautions by their words. */
import { isRefusal } from '@trueloop/ground/refusal'
import { describe, expect, it } from 'vitest'
import { type Settings, settingsOf, sheetOf } from '../../plan/index.ts'
import { plannableSheet } from '../../plan/testing/plannable.ts'
import type { Block } from '../blocks.ts'
import { techniqueSheetBlocks } from './blocks.ts'

const printed = { time: '2026-03-14T10:00:00+01:00', known: 'clock of this computer' } as const
const program = { name: 'Trueloop', version: '0.1.0' }

function paper(change: (sheet: ReturnType<typeof plannableSheet>) => void = () => {}) {
  const value = plannableSheet()
  change(value)
  const read = sheetOf(value)
  if ('refusals' in read) throw new Error(JSON.stringify(read.refusals))
  const settings = settingsOf(read.sheet, [300, 500])
  const found: { settings: Settings } | { why: string } = isRefusal(settings) ? { why: settings.found } : { settings }
  return techniqueSheetBlocks({ sheet: read.sheet, document: 'd'.repeat(64), program, printed, ...found })
}

const cautionsIn = (blocks: readonly Block[]) => blocks.filter((one) => one.block === 'caution')
const rowsIn = (blocks: readonly Block[], caption: RegExp) =>
  blocks.flatMap((one) =>
    one.block === 'table' && caption.test(one.caption) ? one.rows.map((row) => row.map(({ text }) => text)) : []
  )

describe('the technique sheet', () => {
  const blocks = paper()

  it('says first whether anybody stands for it, and that it is a demonstration', () => {
    expect(cautionsIn(blocks)[0]!.title).toBe('Demonstration')
    expect(cautionsIn(blocks)[1]!.title).toBe('Stated as confirmed by B, level III, on 2026-03-14')
    const open = paper((sheet) => {
      delete sheet.confirmed
      sheet.technique.proposed = ['frequency_kHz']
    })
    expect(cautionsIn(open)[1]!.title).toMatch(/^Not confirmed/)
    expect(cautionsIn(open)[1]!.text).toMatch(/frequency_kHz/)
  })

  it('has the line of the worst allowed case as a warning as long as something is not stated in it', () => {
    const lines = cautionsIn(blocks).filter(({ title }) => title.includes('worst allowed case'))
    expect(lines.map(({ tone }) => tone)).toEqual(['warning', 'warning'])
    expect(lines[0]!.text).toMatch(/not stated: crack against notch of its size/)
    expect(lines[0]!.text).toMatch(/no guarantee of detection/)
  })

  it('says which notch the alarm level is a share of, and on what each setting stands', () => {
    expect(rowsIn(blocks, /Notches/).map(([id]) => id)).toContain('N1 (alarm level)')
    const rows = rowsIn(blocks, /Mid-bore in/)
    expect(rows.length).toBeGreaterThan(15)
    expect(rows.every((row) => row.every((text) => text !== ''))).toBe(true)
  })

  it('is written without a winding too, and says that nothing was worked out', () => {
    const bare = paper((sheet) => void delete sheet.technique.probe)
    expect(cautionsIn(bare).map(({ title }) => title)).toContain('No settings were worked out')
  })
})
