/** Oracles: the plan room's schema and checks; geometry counted by brute force; the rules of the demonstration itself. */
import { describe, expect, it } from 'vitest'
import { checkSheet, holeSheetSchema, registerRowSchema, sheetOf } from '../plan/index.ts'
import { demoRecordings } from './demo.ts'
import { demoPeople, demoRegisters } from './demo-people.ts'
import { demoSheet } from './demo-sheet.ts'
import { generate } from './generate.ts'
import { degreesApart, truthOf } from './truth.ts'

const sheet = demoSheet()
const recordings = [...demoRecordings(1)]
const made = new Map(recordings.map(({ file, scene, seed }) => [file, generate(scene, seed)]))

describe('the sheet of the demonstration', () => {
  it('is a valid job sheet', () => {
    expect(holeSheetSchema.parse(sheet)).toEqual(sheet)
    expect(sheetOf(JSON.parse(JSON.stringify(sheet)))).not.toHaveProperty('refused')
    expect(checkSheet(sheet)).toEqual([])
  })

  it('says in every place that nothing of it is real', () => {
    expect(sheet.job.demonstration).toBe(true)
    expect(sheet.job.component).toMatch(/invented/)
    for (const { name } of sheet.people) expect(name).toMatch(/invented/)
  })

  it('has people and things whose rows are valid, invented, and those of the sheet', () => {
    const rows = demoRegisters(demoPeople.map((_, at) => Buffer.alloc(32, at).toString('base64')))
    expect(rows.map((row) => registerRowSchema.parse(row))).toEqual(rows)
    const names = demoPeople.map(({ name }) => name)
    for (const name of names) expect(name).toMatch(/invented/)
    for (const { name } of sheet.people) expect(names).toContain(name)
    expect(rows.length).toBe(names.length + 7)
  })

  it('names every recording, in order', () => {
    expect(recordings.map(({ file }) => file)).toEqual(sheet.recordings.map(({ file }) => file))
    expect(new Set(recordings.map(({ seed }) => seed)).size).toBe(recordings.length)
  })
})

describe('the reference standard of the demonstration', () => {
  const { notches, thickness_mm } = sheet.reference_standard
  const reach = sheet.technique.application === 'fastener hole' ? sheet.technique.lobe_spacing_mm + 1 : 0

  it('has four notches of either kind or more, 35° apart or more', () => {
    for (const place of ['mid-bore', 'entry corner'])
      expect(notches.filter((notch) => notch.place === place).length).toBeGreaterThanOrEqual(4)
    for (const [k, one] of notches.entries())
      for (const other of notches.slice(k + 1))
        expect(degreesApart(one.angle_deg, other.angle_deg)).toBeGreaterThanOrEqual(35)
  })

  it('leaves clean wall: 1.5 mm from the faces, lobe spacing + 1 mm and 45° from every notch', () => {
    const clean = (z: number, angle: number) =>
      notches.every(
        ({ z0_mm, z1_mm, angle_deg }) => z < z0_mm - reach || z > z1_mm + reach || degreesApart(angle, angle_deg) > 45
      )
    const depths = Array.from({ length: 1000 }, (_, k) => 1.5 + ((thickness_mm - 3) * k) / 1000)
    const angles = Array.from({ length: 180 }, (_, k) => 2 * k)
    const count = depths.reduce((sum, z) => sum + angles.filter((angle) => clean(z, angle)).length, 0)
    const turns = depths.filter((z) => angles.every((angle) => clean(z, angle))).length
    expect(count / (1000 * 180)).toBeGreaterThan(0.4)
    // whole revolutions without a notch, at the pitch of the demonstration
    expect(((turns / 1000) * (thickness_mm - 3)) / 0.2).toBeGreaterThan(20)
  })
})

describe('the recordings of the demonstration', () => {
  it('hold their flaws within the hole, cracks within a layer', () => {
    for (const { scene } of recordings) {
      const faces = [0, ...scene.joints.map(({ z_m }) => 1000 * z_m), 1000 * scene.hole.grip_m]
      for (const { z0_mm, z1_mm, kind } of truthOf(scene).flaws) {
        const inLayer = faces.slice(1).some((face, k) => z0_mm >= faces[k]! - 1e-9 && z1_mm <= face + 1e-9)
        expect(inLayer, `${kind} ${z0_mm} to ${z1_mm}`).toBe(true)
      }
    }
  })

  it('show cracks at a corner, at mid-bore, at a faying surface; damage; two holes that cannot count', () => {
    const truths = recordings.map(({ scene }) => truthOf(scene))
    const cracks = truths.flatMap(({ flaws }) => flaws.filter(({ kind }) => kind === 'crack'))
    expect(cracks.map(({ place }) => place)).toEqual(['corner', 'mid-bore', 'corner', 'corner'])
    expect(truths.filter(({ fault }) => fault === 'in air').length).toBe(1)
    const kinds = new Set(truths.flatMap(({ nuisances }) => nuisances.map(({ kind }) => kind)))
    expect([...kinds].sort()).toEqual(
      ['chatter', 'galled patch', 'hum', 'loose particle', 'marks', 'scratch', 'spikes'].sort()
    )
    const { technique } = sheet
    const most = technique.application === 'fastener hole' ? technique.max_pitch_mm : 0
    const pitches = recordings.map(({ scene: { motion } }) =>
      motion.feed.kind === 'constant' ? motion.feed.pitch_m : 0
    )
    expect(pitches.filter((pitch) => 1000 * pitch > most).length).toBe(1)
  })

  it('begin and end in air, the probe in air throughout in one', () => {
    for (const [file, { x, y }] of made) {
      const first = [x.subarray(0, 2000), y.subarray(0, 2000)].map(mean)
      const last = [x.subarray(-2000), y.subarray(-2000)].map(mean)
      const middle = [x, y].map((column) => mean(column.subarray(column.length / 2 - 1000, column.length / 2 + 1000)))
      const step = Math.hypot(first[0]! - middle[0]!, first[1]! - middle[1]!)
      expect(Math.hypot(first[0]! - last[0]!, first[1]! - last[1]!)).toBeLessThan(0.02)
      if (file === 'hole-P05.wav') expect(step).toBeLessThan(0.02)
      else expect(step).toBeGreaterThan(0.9)
    }
  })

  it('have index levels that a reader can tell', () => {
    for (const { index } of made.values()) {
      expect(Math.min(...index)).toBe(0)
      expect(Math.max(...index)).toBe(5)
    }
  })

  it('repeat the reference in the rechecks, noise apart', () => {
    const [a, b] = [made.get('reference-start.wav')!, made.get('recheck-1.wav')!]
    const differences = a.x.map((value, i) => value - b.x[i]!)
    const rms = (column: Float64Array) => Math.sqrt(mean(column.map((value) => value * value)))
    // white noise of 0.013, twice, at gain 0.85, and what wobbles
    expect(rms(differences)).toBeGreaterThan(0.014)
    expect(rms(differences)).toBeLessThan(0.05)
  })
})

const mean = (column: Float64Array): number => column.reduce((sum, value) => sum + value, 0) / column.length
