import { isRefusal } from '@trueloop/ground/refusal'
import { describe, expect, it } from 'vitest'
import { needsOutside } from '../../house/outside.ts'
import { standardizeWeld } from '../standardize/index.ts'
import type { Indication } from './index.ts'
import { type Recorded, sound } from './testing/hole.ts'
import { columnsOf, readJson } from './testing/trial.ts'
import {
  examineTrack,
  parentOf,
  shimReading,
  track,
  weldEquipment,
  weldStandard,
  weldTechnique
} from './testing/weld.ts'

const span = ({ z0_m, z1_m }: Indication): readonly [number, number] => [1e3 * (z0_m as number), 1e3 * (z1_m as number)]

interface WeldTruth {
  readonly flaws: readonly { readonly start_mm: number; readonly end_mm: number; readonly depth_mm: number }[]
  readonly coating_mm: { readonly least: number; readonly median: number; readonly greatest: number }
}

// truth.json of the trial: where each flaw begins and ends, how deep it is, and the coating that was met
needsOutside('trial/weld-toe', 'trial recordings along welds', (folder) => {
  const recording = (name: string): Recorded => {
    const [, position, x, y, absolute] = columnsOf(folder, name)
    return { rate_Hz: 1000, x: x!, y: y!, position: position!.map((mm) => mm * 1e-3), absolute: absolute! }
  }
  const truth = readJson<Record<string, WeldTruth>>(folder, 'truth')
  const numbers = [1, 2, 3, 4, 5, 6, 7, 8]
  const shims = [0, 0.5, 1, 1.5, 2]
  const standardization = sound(
    standardizeWeld(
      { technique: weldTechnique, standard: weldStandard, equipment: weldEquipment, rate_Hz: 1000 },
      shims.map((shim) => shimReading(recording(`block-shim-${shim.toFixed(1)}`), shim))
    )
  ).standardization
  const examined = numbers.map((number) => {
    const parent = parentOf(recording(`parent-0${number}`), standardization)
    const change = { length_mm: 400, standardization, parent, coating_mm: undefined }
    const { examination } = examineTrack(recording(`weld-0${number}`), change)
    return { examination, parent, truth: truth[`weld-0${number}`]! }
  })
  const sorted = ({ flaws }: WeldTruth) => [...flaws].sort((a, b) => a.start_mm - b.start_mm)

  it('every flaw is found by one indication within 1.5 mm of its ends, and nothing else is called', () => {
    for (const { examination, truth: true_ } of examined) {
      expect(examination.refusals).toEqual([])
      const found = examination.indications.map(span)
      expect(found.length).toBe(true_.flaws.length)
      sorted(true_).forEach(({ start_mm, end_mm }, i) => {
        expect(Math.abs(found[i]![0] - start_mm)).toBeLessThan(1.5)
        expect(Math.abs(found[i]![1] - end_mm)).toBeLessThan(1.5)
      })
    }
  })

  it('depths between the slots are told to 0.15 mm in the mean, those beyond as bounds that are true', () => {
    const errors: number[] = []
    for (const { examination, truth: true_ } of examined) {
      sorted(true_).forEach(({ depth_mm }, i) => {
        const { size } = examination.indications[i]!
        if (size.depth_mm !== undefined) errors.push(Math.abs(size.depth_mm - depth_mm))
        if (depth_mm > 2) expect(size).toMatchObject({ lower_mm: 2 })
        if (depth_mm < 0.48) expect(size).toMatchObject({ upper_mm: 0.5 })
      })
    }
    expect(errors.length).toBe(8)
    expect(errors.reduce((sum, error) => sum + error, 0) / errors.length).toBeLessThan(0.15)
  })

  it('the apparent coating is that of the truth, and where it lies above the shims nothing counts as examined', () => {
    for (const { examination, truth: true_ } of examined) {
      const met = examination.coating!.apparent!
      expect(Math.abs(met.least_mm! - true_.coating_mm.least)).toBeLessThan(0.1)
      expect(Math.abs(met.medianOfSamples_mm! - true_.coating_mm.median)).toBeLessThan(0.05)
      if (true_.coating_mm.greatest <= 2) {
        expect(Math.abs(met.greatest_mm! - true_.coating_mm.greatest)).toBeLessThan(0.1)
        expect(examination.zones.map(({ state }) => state)).toEqual(['examined'])
      } else {
        expect(met.greatest_mm).toBeUndefined()
        expect(examination.zones.map(({ state }) => state)).toEqual(['examined', 'not examined', 'examined'])
        expect(examination.zones[1]!.why.join()).toContain('above 2.00 mm')
      }
    }
  })

  it('block and part are of one metal, and parent metal under the same paint shows no indication', () => {
    for (const { parent } of examined) expect(isRefusal(parent)).toBe(false)
    for (const number of numbers) {
      const recorded = recording(`parent-0${number}`)
      const length_mm = Math.floor(1e3 * recorded.position!.at(-1)!)
      const { examination } = examineTrack(recorded, { length_mm, standardization, coating_mm: undefined })
      expect(examination.zones.map(({ state }) => state)).toEqual(['examined'])
      expect(examination.indications).toEqual([])
    }
  })
})

describe('a track', () => {
  const flaw = { depth_m: 1e-3, from_m: 0.04, to_m: 0.052 }

  it('run the other way gives the same places', () => {
    const forward = track({ flaws: [flaw] }, 3)
    const back = (column: Float64Array): Float64Array => Float64Array.from(column).reverse()
    const reversed = { ...forward, x: back(forward.x), y: back(forward.y), position: back(forward.position!) }
    const [a] = examineTrack(forward).examination.indications
    const [b, ...more] = examineTrack(reversed).examination.indications
    expect(more.length).toBe(0)
    expect(Math.abs(span(a!)[0] - span(b!)[0])).toBeLessThan(0.1)
    expect(Math.abs(span(a!)[1] - span(b!)[1])).toBeLessThan(0.1)
    expect(Math.abs(a!.amplitude / b!.amplitude - 1)).toBeLessThan(0.01)
  })

  it('whose plate changes slowly: the change is neither noise nor an indication, the flaw on it is one', () => {
    const slow = { rms: 0.12, knot_m: 0.15, direction_rad: 1.9 }
    const { examination } = examineTrack(
      track({ length_m: 0.8, flaws: [{ depth_m: 6e-4, from_m: 0.4, to_m: 0.41 }], material: slow }, 5),
      {
        length_mm: 800
      }
    )
    expect(examination.refusals).toEqual([])
    expect(examination.indications.map(span).map(([from, to]) => [Math.round(from), Math.round(to)])).toEqual([
      [400, 410]
    ])
  })

  it('with two flaws on one slow rise shows two', () => {
    const slow = { rms: 0.08, knot_m: 0.4, direction_rad: 1.9 }
    const flaws = [0.4, 0.43].map((from_m) => ({ depth_m: 6e-4, from_m, to_m: from_m + 0.008 }))
    for (const seed of [5, 6, 7]) {
      const { indications } = examineTrack(track({ length_m: 0.8, flaws, material: slow }, seed), {
        length_mm: 800
      }).examination
      expect(indications.map(span).map(([from]) => Math.round(from))).toEqual([400, 430])
    }
  })
})
