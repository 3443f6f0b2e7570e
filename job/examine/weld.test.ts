import { describe, expect, it } from 'vitest'
import { needsOutside } from '../../house/outside.ts'
import type { Indication } from './index.ts'
import type { Recorded } from './testing/hole.ts'
import { columnsOf, readJson } from './testing/trial.ts'
import { examineTrack, standardizedBlock, track } from './testing/weld.ts'

const span = ({ z0_m, z1_m }: Indication): readonly [number, number] => [1e3 * (z0_m as number), 1e3 * (z1_m as number)]

interface WeldTruth {
  readonly flaws: readonly { readonly start_mm: number; readonly end_mm: number; readonly depth_mm: number }[]
}

// truth.json of the trial: where each flaw begins and ends
needsOutside('trial/weld-toe', 'trial recordings along welds', (folder) => {
  const recording = (name: string): Recorded => {
    const [, position, x, y] = columnsOf(folder, name)
    return { rate_Hz: 1000, x: x!, y: y!, position: position!.map((mm) => mm * 1e-3) }
  }
  const truth = readJson<Record<string, WeldTruth>>(folder, 'truth')
  const numbers = [1, 2, 3, 4, 5, 6, 7, 8]

  it('every flaw is found by one indication within 1.5 mm of its ends, and nothing else is called', () => {
    const standardization = standardizedBlock(recording('block-shim-1.5'))
    for (const number of numbers) {
      const { examination } = examineTrack(recording(`weld-0${number}`), { length_mm: 400, standardization })
      expect(examination.refusals).toEqual([])
      expect(examination.zones.map(({ state }) => state)).toEqual(['examined'])
      const flaws = [...truth[`weld-0${number}`]!.flaws].sort((a, b) => a.start_mm - b.start_mm)
      const found = examination.indications.map(span)
      expect(found.length).toBe(flaws.length)
      flaws.forEach(({ start_mm, end_mm }, i) => {
        expect(Math.abs(found[i]![0] - start_mm)).toBeLessThan(1.5)
        expect(Math.abs(found[i]![1] - end_mm)).toBeLessThan(1.5)
      })
    }
  })

  it('parent metal under the same paint shows no indication', () => {
    const standardization = standardizedBlock(recording('block-shim-1.5'))
    for (const number of numbers) {
      const recorded = recording(`parent-0${number}`)
      const length_mm = Math.floor(1e3 * recorded.position!.at(-1)!)
      const { examination } = examineTrack(recorded, { length_mm, standardization })
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
