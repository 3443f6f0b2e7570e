/** Oracle: RFC 4180 read back by a reader written here, and the settings that the lines are made of. */
import { isRefusal } from '@trueloop/ground/refusal'
import { describe, expect, it } from 'vitest'
import { sheetOf } from '../read.ts'
import { plannableSheet } from '../testing/plannable.ts'
import { besideLines, settingLines } from './lines.ts'
import { settingsOf } from './settings.ts'
import { sweepsCsv, sweepsOf } from './sweeps.ts'

function sheetWith(change: (sheet: ReturnType<typeof plannableSheet>) => void = () => {}) {
  const value = plannableSheet()
  change(value)
  const read = sheetOf(value)
  if ('refusals' in read) throw new Error(JSON.stringify(read.refusals))
  return read.sheet
}

function settingsWith(change?: (sheet: ReturnType<typeof plannableSheet>) => void) {
  const settings = settingsOf(sheetWith(change), [300, 500])
  if (isRefusal(settings)) throw new Error(settings.found)
  return settings
}

describe('lines of settings', () => {
  const settings = settingsWith()
  const lines = settingLines(settings)

  it('all stand on something, and have one value for each part and label', () => {
    expect(lines.every(({ stands_on, value }) => stands_on !== '' && value !== '')).toBe(true)
    expect(new Set(lines.map(({ part, label }) => `${part}|${label}`)).size).toBe(lines.length)
  })

  it('say the worst allowed case of every kind of zone', () => {
    const parts = lines.filter(({ label }) => label === 'flaw sought in the worst allowed case').map(({ part }) => part)
    expect(parts).toEqual(['corners in aluminum 7075-T6', 'mid-bore in aluminum 7075-T6'])
  })

  it('of two techniques stand side by side and differ only where they differ', () => {
    expect(besideLines(settings, settings).some(({ differs }) => differs)).toBe(false)
    const slower = settingsWith((sheet) => {
      sheet.technique.rotation_rpm = 750
    })
    const apart = besideLines(settings, slower).filter(({ differs }) => differs)
    expect(apart.map(({ label }) => label)).toEqual(
      expect.arrayContaining(['rotation', 'surface speed', 'time for all scans'])
    )
    expect(apart.map(({ label }) => label)).not.toContain('pulse center')
    expect(apart.find(({ label }) => label === 'rotation')).toMatchObject({ first: '1500 rpm', second: '750 rpm' })
  })
})

/** A record of RFC 4180: fields with commas or quotes stand in quotes, quotes doubled. */
const fieldsOf = (record: string): readonly string[] =>
  [...record.matchAll(/(?:^|,)(?:"((?:[^"]|"")*)"|([^",]*))/g)].map(([, inQuotes, bare]) =>
    inQuotes === undefined ? (bare ?? '') : inQuotes.replaceAll('""', '"')
  )

describe('sweeps', () => {
  const rows = sweepsOf(sheetWith(), [300, 500])
  if (isRefusal(rows)) throw new Error(rows.found)

  it('read back from CSV as they are, every record with every column', () => {
    const records = sweepsCsv(rows).split('\r\n')
    expect(records.pop()).toBe('')
    const [head, ...body] = records.map(fieldsOf)
    expect(body).toHaveLength(rows.length)
    for (const [at, record] of body.entries()) {
      expect(record).toHaveLength(head!.length)
      expect(Number(record[head!.indexOf('value')])).toBeCloseTo(rows[at]!.value, 5)
      expect(Number(record[head!.indexOf('reactance_normalized')])).toBeCloseTo(rows[at]!.reactance, 6)
    }
  })

  it('bring the coil back to air, (0, 1), as lift-off grows, and weaken the flaw', () => {
    const lifted = rows.filter(({ over, zones }) => over === 'lift-off' && zones.startsWith('mid-bore'))
    const away = lifted.map(({ resistance, reactance }) => Math.hypot(resistance, reactance - 1))
    expect(away).toEqual([...away].sort((a, b) => b - a))
    const flaws = lifted.map(({ flaw }) => flaw?.flaw_share ?? 0)
    expect(flaws).toEqual([...flaws].sort((a, b) => b - a))
  })

  it('end in the endless metal as a plate gets thick: within a hundredth at four depths of penetration', () => {
    const plates = rows.filter(({ over, zones }) => over === 'thickness' && zones.startsWith('mid-bore'))
    const thick = plates[plates.length - 1]!
    const endless = rows.find(({ over, value }) => over === 'frequency' && value === 500)!
    expect(Math.hypot(thick.resistance - endless.resistance, thick.reactance - endless.reactance)).toBeLessThan(
      0.01 * Math.hypot(endless.resistance, endless.reactance - 1)
    )
    expect(plates[0]!.reactance).toBeGreaterThan(thick.reactance)
  })

  it('give the same point twice where a conductivity doubles as a frequency halves: depth of penetration and place', () => {
    const [half] = rows.filter(({ over }) => over === 'conductivity').filter((_, at) => at === 1)
    expect(half!.flaw!.depth_of_penetration_mm).toBeCloseTo(
      Math.SQRT2 * rows.find(({ over, value }) => over === 'frequency' && value === 500)!.flaw!.depth_of_penetration_mm,
      9
    )
  })
})
