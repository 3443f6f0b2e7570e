import { describe, expect, it } from 'vitest'
import { checkSheet, sheetOf, weldSheetSchema } from '../plan/index.ts'
import { trackCsv, weldDemoRecording, weldDemoRecordings } from './weld-demo.ts'
import { weldDemoSheet } from './weld-demo-sheet.ts'

/** Oracles: the plan room's schema and checks; the rules of the demonstration itself. */

const sheet = weldDemoSheet()
const recordings = [...weldDemoRecordings(1)]

describe('the weld job of the demonstration', () => {
  it('is a valid job sheet, and says in every place that nothing of it is real', () => {
    expect(weldSheetSchema.parse(sheet)).toEqual(sheet)
    expect(sheetOf(JSON.parse(JSON.stringify(sheet)))).not.toHaveProperty('refusals')
    expect(checkSheet(sheet)).toEqual([])
    expect(sheet.job.demonstration).toBe(true)
    for (const words of [
      sheet.job.component,
      sheet.job.task,
      sheet.reference_standard.id,
      sheet.technique.procedure.id
    ])
      expect(words).toMatch(/invented/)
  })

  it('names every recording, in order, each with a seed of its own', () => {
    expect(recordings.map(({ file }) => file)).toEqual(sheet.recordings.map(({ file }) => file))
    expect(new Set(recordings.map(({ seed }) => seed)).size).toBe(recordings.length)
  })

  it('writes rows that a table program reads: a head, and as many figures in every row', () => {
    const [one] = recordings
    const text = trackCsv(weldDemoRecording(one!))
    const [head, ...rows] = text.trimEnd().split('\n')
    expect(head).toBe('time_s,position_mm,x_V,y_V,a_V')
    expect(rows.length).toBeGreaterThan(1000)
    expect(rows.every((row) => row.split(',').every((figure) => Number.isFinite(Number(figure))))).toBe(true)
    expect(rows.every((row) => row.split(',').length === 5)).toBe(true)
  })
})
