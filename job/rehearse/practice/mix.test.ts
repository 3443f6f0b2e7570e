/**
 * Oracles: gain, rotation, offset and levels of an instrument that the test itself sets (the job's own recording is made
 * with them, what is mixed in has to come out with the same); node:crypto; the rules of a job sheet (sheetOf); the layers
 * of the holes; and what stood in the sheet before.
 */
import { createHash } from 'node:crypto'
import { isRefusal } from '@trueloop/ground/refusal'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { openHole } from '../../examine/index.ts'
import { type HoleSheet, sheetOf } from '../../plan/index.ts'
import { loopSheet } from '../../plan/testing/plannable.ts'
import { practiceAnswersOf } from '../../prove/index.ts'
import { canonical } from '../../record/index.ts'
import { memoryShelf } from '../field/index.ts'
import { generate } from '../generate.ts'
import type { HoleScene } from '../scene.ts'
import { windingSheet } from '../testing/windings.ts'
import { type DrawnMix, drawnMix } from './lay-out.ts'
import { likeOwn, recordedFrom } from './like.ts'
import { type Mixed, mixable, mixOf } from './mix.ts'
import { fileLike, namesAfter } from './naming.ts'
import { type Columns, ownReferenceOf, standardizedFrom } from './own.ts'
import { type HoleRecording, placesIn, timeBetween } from './places.ts'
import { practiceOf } from './practice.ts'
import { probeFor } from './probe.ts'
import { standardScene } from './scenes.ts'

type Recording = HoleSheet['recordings'][number]

const shelf = memoryShelf()
const hash = (text: string): string => createHash('sha256').update(text).digest('hex')

function sheetWith(change: (sheet: ReturnType<typeof windingSheet>) => void = () => {}): HoleSheet {
  const value = windingSheet()
  change(value)
  const read = sheetOf(value)
  if ('refusals' in read) throw new Error(JSON.stringify(read.refusals))
  const practice = practiceOf(read.sheet, 1, shelf)
  if (isRefusal(practice)) throw new Error(practice.found)
  const { job, technique } = practice.sheet
  const taken = (k: number): string => `2026-03-14T10:${10 + 4 * k}:00+01:00`
  return {
    ...practice.sheet,
    job: { ...job, id: 'J7' },
    technique,
    recordings: practice.sheet.recordings.map((one, k) => ({ ...one, taken: taken(k) }))
  }
}

const sheet = sheetWith()
const rate_Hz = 21_000
const probe = probeOf()

function probeOf() {
  const found = probeFor(sheet, shelf)
  if (isRefusal(found)) throw new Error(found.found)
  return found
}

/** The real instrument: what the test knows of it, and nobody else. */
const real = { gain: 2.3, rotation_rad: 2.1, offset: { x: 1.7, y: -0.6 }, low: -0.2, height: 3.3, rpm: 1560 }

function realScene(order: 1 | -1 = 1): HoleScene {
  const like = standardScene({ sheet, probe, rate_Hz })
  const { noise, recorder, motion } = like
  return {
    ...like,
    motion: { ...motion, rpm: real.rpm },
    instrument: { gain: real.gain, rotation_rad: real.rotation_rad, offset: real.offset },
    recorder: { ...recorder, index: { ...recorder.index, height: real.height, width_turn: 0.1 } },
    probe: { ...probe, imbalance: order * 0.2 },
    noise: { ...noise, white: 1.5 * noise.white, wall: { ...noise.wall, rms: 1.5 * noise.wall.rms } }
  }
}

function realColumns(scene: HoleScene): Columns {
  const { x, y, index } = generate(scene, 77, shelf)
  return { rate_Hz, x, y, index: index.map((value) => value + real.low) }
}

function ownOf(scene: HoleScene) {
  const own = ownReferenceOf(sheet, realColumns(scene))
  if (isRefusal(own)) throw new Error(`${own.code}: ${own.found}`)
  return own
}

const own = ownOf(realScene())

function mixedOf(count: number, seed: number, from: HoleSheet = sheet): Mixed {
  const mixed = mixOf({ sheet: from, own, count, seed, shelf, hash })
  if (isRefusal(mixed)) throw new Error(`${mixed.code}: ${mixed.found}`)
  return mixed
}

function drawnOf(count: number, seed: number): DrawnMix {
  const drawn = drawnMix({ sheet, count, seed, probe, hash })
  if (isRefusal(drawn)) throw new Error(drawn.found)
  return drawn
}

describe('the instrument of a job', () => {
  it('is known by level of the wall, levels of the index and rate', () => {
    const { airStep, turn } = own.standardization
    const step = Math.hypot(airStep.x, airStep.y) / Math.hypot(turn.x, turn.y)
    expect(Math.hypot(own.wall.x - real.offset.x, own.wall.y - real.offset.y) / step).toBeLessThan(0.03)
    expect(own.index?.low).toBeCloseTo(real.low, 6)
    expect(own.index?.high).toBeCloseTo(real.low + real.height, 6)
    expect(own.index?.share).toBeCloseTo(0.1, 2)
    expect(own.rate_Hz).toBe(rate_Hz)
  })

  it.each([1, -1] as const)('gives its gain, rotation, speed, step and noise to what is made (lobes %i)', (order) => {
    const known = order === 1 ? own : ownOf(realScene(order))
    const staging = { sheet, probe, rate_Hz }
    const like = likeOwn(staging, known, shelf)
    if (isRefusal(like)) throw new Error(like.found)
    const scene = like.dress(standardScene(staging))
    expect(Math.abs(scene.instrument.gain / real.gain - 1)).toBeLessThan(0.07) // what the noise adds to the notch of the job
    const turn = (scene.instrument.rotation_rad - real.rotation_rad) / (2 * Math.PI)
    expect(Math.abs(turn - Math.round(turn))).toBeLessThan(0.01)
    expect(scene.motion.rpm / real.rpm).toBeCloseTo(1, 2)
    const made = standardizedFrom(sheet, recordedFrom({ scene, seed: 5 }, known, shelf))
    if (isRefusal(made)) throw new Error(made.found)
    const { standardization: wanted } = known
    const size = ({ turn: { x, y } }: typeof made) => Math.hypot(x, y)
    expect(Math.abs(size(wanted) / size(made) - 1)).toBeLessThan(0.07)
    expect(Math.abs(made.noise.matched / wanted.noise.matched - 1)).toBeLessThan(0.15)
    expect(Math.abs(made.noise.xx / wanted.noise.xx - 1)).toBeLessThan(0.4)
    expect(Math.abs(made.airStep.x / wanted.airStep.x - 1)).toBeLessThan(0.08)
    expect(made.notches.map(({ phase_rad }, k) => Math.cos(phase_rad - wanted.notches[k]!.phase_rad) > 0.95)).toEqual([
      true,
      true
    ])
  })
})

const mixed = mixedOf(4, 3)

describe('a job with practice mixed in', () => {
  const isMixed = (id: string): boolean => mixed.answers.places.some(({ name }) => name === id)

  it('is a sound job sheet, bound to its answers by their hash', () => {
    expect(sheetOf(JSON.parse(JSON.stringify(mixed.sheet)))).toHaveProperty('sheet')
    const { practice } = mixed.sheet
    expect(practice).toEqual({ count: 4, answers: hash(canonical(mixed.answers)) })
    expect(mixed.answers).toMatchObject({ trueloop: 'mixed-practice/1', job: 'J7', seed: 3 })
    expect(practiceAnswersOf(JSON.parse(JSON.stringify(mixed.answers)))).toEqual(mixed.answers)
    expect(mixed.answers.places.map(({ name }) => name)).toEqual(['H7', 'H8', 'H9', 'H10'])
  })

  it('gives what it says: cracks where the answers have one, of that size and at that place', () => {
    for (const [k, { flawed, what }] of mixed.answers.places.entries()) {
      const { flaws, damage } = mixed.recordings[k]!.scene
      expect(flaws.length).toBe(flawed ? 1 : 0)
      expect(what.includes('a scratch')).toBe(damage.length > 0)
      const [flaw] = flaws
      if (flaw === undefined) expect(what).toMatch(/^no flaw(; a scratch)?; simulated$/)
      else {
        const [, depth, length, angle, z0, z1] =
          /crack, depth ([\d.]+) mm, length ([\d.]+) mm, at (\d+)°, ([\d.]+) to ([\d.]+) mm/.exec(what) ?? []
        expect(Number(depth)).toBeCloseTo(1000 * flaw.depth_m, 6)
        expect(Number(length)).toBeCloseTo(1000 * flaw.length_m, 6)
        expect(Math.abs(Number(angle) - 360 * flaw.angle_turn)).toBeLessThan(0.51)
        expect(Number(z1) - Number(z0)).toBeCloseTo(1000 * flaw.length_m, 0)
        const atJoint = [0, 4.5, 9].some((end) => [flaw.z0_m, flaw.z1_m].some((z) => Math.abs(1000 * z - end) < 1e-9))
        expect(what.startsWith(atJoint ? 'corner crack' : 'mid-bore crack')).toBe(true)
      }
    }
  })

  it('lets nothing in the sheet tell what is there', () => {
    expect(JSON.stringify(mixed.sheet)).not.toMatch(/crack|scratch|flawed|no flaw|seed/)
    const added = mixed.sheet.recordings.filter((one) => one.of === 'hole' && isMixed(one.hole))
    expect(added.map(({ file }) => file)).toEqual(['hole-7.wav', 'hole-8.wav', 'hole-9.wav', 'hole-10.wav'])
    expect(added.map(({ taken }) => taken)).toEqual(
      added.map(() => expect.stringMatching(/^2026-03-14T10:\d\d:00\+01:00$/))
    )
  })

  it('is examined as any other: every zone, and a crack above the alarm level at its place', () => {
    const at = mixed.answers.places.findIndex(({ flawed }) => flawed)
    const blank = mixed.answers.places.findIndex(({ what }) => what === 'no flaw; simulated')
    const { flaws } = mixed.recordings[at]!.scene
    for (const k of [at, blank]) {
      const { name } = mixed.answers.places[k]!
      const { zones, refusals, indications } = examined(mixed, k)
      expect(refusals).toEqual([])
      expect(zones.map(({ state }) => state)).toEqual(zones.map(() => 'examined'))
      const seen = indications.filter(({ crossedAlarm }) => crossedAlarm)
      if (k === blank) expect(seen, name).toEqual([])
      else
        expect(seen.some(({ z_m }) => Number(z_m) > flaws[0]!.z0_m - 5e-4 && Number(z_m) < flaws[0]!.z1_m + 5e-4)).toBe(
          true
        )
    }
  })
})

function examined(mixed: Mixed, k: number) {
  const { rate_Hz, x, y, index } = recordedFrom(mixed.recordings[k]!, own, shelf)
  const { technique, equipment, holes } = mixed.sheet
  const hole = holes.find(({ id }) => id === mixed.answers.places[k]!.name)!
  const { standardization } = own
  const common = { technique, hole, equipment, rate_Hz, indexed: true, recording: hash('recording') }
  const run = openHole({ ...common, standardization, standardizationName: hash('standardization') })
  if (isRefusal(run)) throw new Error(run.found)
  const taken = run.take({ first: 0, channels: [{ x, y }], aux: { index: index! } })
  const closed = isRefusal(taken) ? taken : run.close()
  if (isRefusal(closed)) throw new Error(closed.found)
  return closed.examination
}

describe('whatever count and seed', () => {
  const asked = fc.record({ count: fc.integer({ min: 1, max: 20 }), seed: fc.nat() })

  it('what is taken out again leaves the sheet as it was, and each stands after the recording of a hole', () => {
    fc.assert(
      fc.property(asked, ({ count, seed }) => {
        const { sheet: now, answers, recordings } = drawnOf(count, seed)
        const names = new Set(answers.places.map(({ name }) => name))
        const isOurs = (one: HoleSheet['recordings'][number]): boolean => one.of === 'hole' && names.has(one.hole)
        const { practice, ...rest } = now
        expect(practice?.count).toBe(count)
        expect(names.size).toBe(count)
        expect({
          ...rest,
          holes: now.holes.filter(({ id }) => !names.has(id)),
          recordings: now.recordings.filter((one) => !isOurs(one))
        }).toEqual(sheet)
        expect(now.recordings.filter(isOurs).map(({ file }) => file)).toEqual(recordings.map(({ file }) => file))
        now.recordings.forEach((one, at) => {
          if (isOurs(one)) expect(now.recordings[at - 1]!.of).toBe('hole')
        })
        expect(now.recordings.at(-1)!.of).toBe('recheck')
        const flawed = answers.places.filter((one) => one.flawed).length
        if (count > 1) expect(flawed > 0 && flawed < count).toBe(true)
        expect(Math.abs(flawed - count / 2)).toBeLessThan(1)
      }),
      { numRuns: 100 }
    )
  })

  it('the same seed gives the same, and another another', () => {
    expect(drawnOf(3, 8)).toEqual(drawnOf(3, 8))
    expect(drawnOf(3, 9).answers.places).not.toEqual(drawnOf(3, 8).answers.places)
    expect(mixedOf(4, 3)).toEqual(mixed)
  })
})

describe('practice is not mixed', () => {
  const codeOf = (change: Partial<HoleSheet>, count = 2) => {
    const found = mixOf({ sheet: { ...sheet, ...change }, own, count, seed: 1, shelf, hash })
    return isRefusal(found) ? found.code : 'no refusal'
  }
  const techniqueWith = (change: Partial<HoleSheet['technique']>) => ({ technique: { ...sheet.technique, ...change } })

  it('in other numbers, twice, or into a sheet without reference scan, holes or an even feed', () => {
    for (const count of [0, 21, 1.5, Number.NaN]) expect(codeOf({}, count)).toBe('rehearse/other-count')
    expect(codeOf({ practice: { count: 1, answers: hash('') } })).toBe('rehearse/mixed-before')
    expect(codeOf({ recordings: [] })).toBe('rehearse/no-reference')
    expect(codeOf({ recordings: sheet.recordings.slice(0, 1) })).toBe('rehearse/no-place')
    expect(codeOf(techniqueWith({ axial_position: 'encoder' }))).toBe('rehearse/other-feed')
    const loop = sheetOf(loopSheet())
    if ('refusals' in loop) throw new Error(JSON.stringify(loop.refusals))
    const found = mixable(loop.sheet, 2)
    expect(isRefusal(found) && found.code).toBe('rehearse/not-a-hole')
  })

  it('for a probe without windings, or whose windings do not fit', () => {
    expect(codeOf(techniqueWith({ probe: undefined }))).toBe('rehearse/no-pick-ups')
    expect(codeOf(techniqueWith({ lobe_spacing_mm: 9 }))).toBe('rehearse/not-like-it')
    expect(codeOf(techniqueWith({ target_flaw_mm: { depth: 0.5, length: 30 } }))).toBe('rehearse/no-room')
  })
})

describe('what is mixed in', () => {
  it('never stands between a scan and the one that confirms it, nor under another reference scan', () => {
    const [reference, first, second] = sheet.recordings as [Recording, HoleRecording, HoleRecording]
    const again = { ...first, file: 'b.wav', confirms: first.file, after: 'cleaned and entered again' as const }
    const [after, later] = [
      { ...reference, file: 'r2.wav' },
      { ...second, file: 'c.wav' }
    ]
    expect(placesIn({ ...sheet, recordings: [reference, first, again, second, after, later] })).toEqual([2, 3])
    const other = { ...second, columns: { x: 1, y: 0 } }
    expect(placesIn({ ...sheet, recordings: [reference, first, other] })).toEqual([1])
  })

  it('was taken between its neighbors, to the minute where they are, and says no time where one has none', () => {
    const between = (before?: string, after?: string) => timeBetween({ before, after, share: 0.5 })
    expect(between('2026-03-14T10:10:00+01:00', '2026-03-14T10:13:00+01:00')).toBe('2026-03-14T10:11:00+01:00')
    expect(between('2026-03-14T10:10+01:00', '2026-03-14T09:16Z')).toBe('2026-03-14T10:13+01:00')
    expect(between('2026-03-14T10:10:07', '2026-03-14T10:13:20')).toBe('2026-03-14T10:11:43')
    expect(between('2026-03-14T23:59:00Z', '2026-03-15T00:11:00Z')).toBe('2026-03-14T23:59:00Z')
    expect(between('2026-03-14T10:10:00Z')).toBe(undefined)
  })

  it('has names and files like those of the sheet', () => {
    expect(namesAfter(['P08', 'P09'], 2)).toEqual(['P10', 'P11'])
    expect(namesAfter(['P10', 'P2'], 1)).toEqual(['P11'])
    expect(namesAfter(['L1-A', 'L2-A'], 2)).toEqual(['L3-A', 'L4-A'])
    expect(namesAfter(['A', 'B'], 2)).toEqual(['B-2', 'B-3'])
    expect(fileLike({ file: 'scans/hole-P09.wav', hole: 'P09' }, 'P10', [])).toBe('scans/hole-P10.wav')
    expect(fileLike({ file: 'w-012.WAV', hole: 'P9' }, 'P10', ['w-012.WAV', 'w-013.WAV'])).toBe('w-014.WAV')
  })
})
