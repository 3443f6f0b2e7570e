import { describe, expect, it } from 'vitest'
import { generate, type HoleScene } from '../rehearse/index.ts'
import { agreementOf, alikeScans, type PrintedScan, wallPrintOf } from './likeness.ts'
import { examine, sceneOf } from './testing/hole.ts'

/**
 * Oracle: generated holes, whose wall is drawn from `pattern` alone: with one pattern and another seed the same hole was
 * scanned again; noise, wobble and the turn at which the recording begins are new.
 */

const scene = sceneOf('hole-P01')
const scanned = (pattern: number, seed: number): HoleScene => ({
  ...scene,
  wall: { ...scene.wall, pattern },
  recorder: { ...scene.recorder, index: { ...scene.recorder.index, first_turn: (seed * 0.37) % 1 } }
})
const scan = (subject: string, pattern: number, seed: number): PrintedScan => {
  const print = wallPrintOf(examine(generate(scanned(pattern, seed), seed)).examination)
  if (print === undefined) throw new Error('a hole without a print')
  return { subject, file: `${subject}-${seed}.wav`, print }
}

const holes = [11, 12, 13, 14, 15, 16].map((pattern, at) => scan(`H${at + 1}`, pattern, at + 1))
const again = scan('H9', 13, 21)

describe('the wall of a hole', () => {
  it('agrees with itself, and with no other to the same degree', () => {
    const [one, other, third] = holes
    expect(agreementOf(one!.print, one!.print)).toBeCloseTo(1, 9)
    expect(agreementOf(one!.print, other!.print)).toBeCloseTo(agreementOf(other!.print, one!.print), 9)
    const same = agreementOf(third!.print, again.print)
    for (const hole of holes) if (hole !== third) expect(agreementOf(hole.print, again.print)).toBeLessThan(0.7 * same)
  })

  it('scanned again under another name is told, and no two others are', () => {
    expect(alikeScans(holes)).toEqual([])
    const found = alikeScans([...holes, again])
    expect(found.map(({ one, other }) => [one.subject, other.subject])).toEqual([['H3', 'H9']])
    expect(found[0]!.agreement).toBeGreaterThan(found[0]!.limit)
  })

  it('scanned again under its own name may lower the limit, and never raises it', () => {
    const [without] = alikeScans([...holes, again])
    const [beside] = alikeScans([...holes, scan('H3', 13, 22), again])
    expect(beside!.limit).toBeLessThanOrEqual(without!.limit * 1.05)
    // two scans under one name that do not agree at all: the limit stays above what chance does
    const foreign = { ...holes[0]!, subject: 'H2' }
    const lower = alikeScans([...holes, foreign, again])
    expect(lower.map(({ one, other }) => [one.subject, other.subject])).toContainEqual(['H3', 'H9'])
    expect(lower.every(({ agreement, limit }) => agreement >= limit && limit > 0.1)).toBe(true)
  })

  it('is compared with nothing where there are too few to know what is usual', () => {
    expect(alikeScans([holes[2]!, again])).toEqual([])
    const nothing = { position: { axial: 'unknown', axialUncertainty_m: 'unknown', angle: 'unknown' } } as const
    expect(wallPrintOf(nothing)).toBeUndefined()
  })
})
