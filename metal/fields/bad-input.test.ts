/**
 * Oracle: what the models leave out, written out beside each case. Every bad input of a coil, a part or a crack is refused
 * in three parts: the value that was found, the limit that holds, and what to do.
 */
import { hertz, meters, siemensPerMeter } from '@trueloop/ground/quantity'
import { isRefusal, type Refusal } from '@trueloop/ground/refusal'
import { describe, expect, it } from 'vitest'
import { materialNamed, withMeasured } from '../materials/index.ts'
import {
  type Coil,
  type CrackInPart,
  coaxialProbe,
  holeImpedanceChange,
  impedanceChange,
  type Layer,
  planCrack,
  radialProbe,
  standardDepth
} from './index.ts'

const refused = (value: unknown): Refusal => {
  if (!isRefusal(value)) throw new Error('answered')
  return value
}
const must = <T>(value: T | Refusal): T => {
  if (isRefusal(value)) throw new Error(value.code)
  return value
}

const coil: Coil = { innerRadius: meters(0.3e-3), outerRadius: meters(0.7e-3), length: meters(0.6e-3), turns: 60 }
const aluminum = { conductivity: siemensPerMeter(18.97e6), permeability: 1 }
const half: Layer = { ...aluminum, thickness: 'infinite' }
const flat = must(coaxialProbe({ coil, liftOff: meters(0.15e-3) }))
const hole = must(radialProbe({ coil, holeDiameter: meters(6.35e-3), liftOff: meters(0.15e-3) }))
// depth of penetration 0.1634 mm at 500 kHz
const cracked: CrackInPart = {
  crack: { outline: 'rectangle', length: meters(1.5e-3), depth: meters(0.75e-3), opening: meters(0) },
  metal: aluminum,
  thickness: 'infinite',
  frequency: hertz(500e3),
  cells: { along: 40, deep: 20 }
}
const open = (opening: number) => ({ ...cracked, crack: { ...cracked.crack, opening: meters(opening) } })
const weak = { ...aluminum, permeability: 0.9 }
const loose = { coil, holeDiameter: meters(6.35e-3), liftOff: meters(0.01e-3) }

const cases: readonly (readonly [string, unknown, string, RegExp, RegExp])[] = [
  ['coil through the wall', radialProbe(loose), 'fields/coil-through-wall', /0\.003175 m radius/, /within the hole/],
  [
    'coil through the surface',
    coaxialProbe({ coil, liftOff: meters(-1e-4) }),
    'fields/coil-through-surface',
    /-0\.0001 m/,
    /above the surface/
  ],
  [
    'negative thickness of a layer',
    impedanceChange(flat, hertz(1e5), [{ ...aluminum, thickness: meters(-1e-3) }, half]),
    'fields/bad-thickness',
    /-0\.001 m/,
    /above zero/
  ],
  [
    'negative thickness under a crack',
    planCrack({ ...cracked, thickness: meters(-1e-3) }),
    'fields/bad-thickness',
    /-0\.001 m/,
    /above zero/
  ],
  [
    'permeability below 1 in a layer',
    impedanceChange(flat, hertz(1e5), [{ ...half, permeability: 0.9 }]),
    'fields/bad-permeability',
    /0\.9/,
    /^1 for a metal that is not magnetic/
  ],
  [
    'permeability below 1 around a hole',
    holeImpedanceChange(hole, hertz(1e5), weak),
    'fields/bad-permeability',
    /0\.9/,
    /^1 for/
  ],
  [
    'permeability below 1 under a crack',
    planCrack({ ...cracked, metal: weak }),
    'fields/bad-permeability',
    /0\.9/,
    /^1 for/
  ],
  ['permeability below 1 for a depth', standardDepth(hertz(1e5), weak), 'fields/bad-permeability', /0\.9/, /^1 for/],
  [
    'no frequency',
    holeImpedanceChange(hole, hertz(0), aluminum),
    'fields/bad-frequency',
    /frequency of 0 Hz/,
    /above zero/
  ],
  // 2 pi f r / c = 0.01: 681 MHz for 0.7 mm, 150 MHz for a hole of 3.175 mm radius
  [
    'waves over layers',
    impedanceChange(flat, hertz(1e9), [half]),
    'fields/frequency-too-high',
    /1000000000 Hz/,
    /at most 681\d{6} Hz/
  ],
  [
    'waves in a hole',
    holeImpedanceChange(hole, hertz(1e9), aluminum),
    'fields/frequency-too-high',
    /1000000000 Hz/,
    /at most 150\d{6} Hz/
  ],
  // 1.5 mm in 8 cells: 0.1875 mm each
  [
    'cells larger than the depth of penetration',
    planCrack({ ...cracked, cells: { along: 8, deep: 8 } }),
    'fields/cells-too-large',
    /0\.0001875/,
    /depth/
  ],
  // 0.3 x 0.1634 mm = 0.049 mm
  [
    'opening not small against it',
    planCrack({ ...open(0.06e-3), cells: { along: 20, deep: 10 } }),
    'fields/opening-too-wide',
    /0\.00006|6e-0?5/,
    /0\.3 depths/
  ],
  [
    'material without a source',
    withMeasured(must(materialNamed('1100')), { conductivity: siemensPerMeter(34e6), source: '' }),
    'materials/no-source',
    /./,
    /./
  ],
  ['material that is not in the table', materialNamed('no such alloy'), 'materials/unknown', /no such alloy/, /./]
]

describe('refused in three parts', () => {
  it.each(cases)('%s', (_, value, code, found, needed) => {
    const refusal = refused(value)
    expect(refusal.code).toBe(code)
    expect(refusal.found).toMatch(found)
    expect(refusal.needed).toMatch(needed)
    expect(refusal.remedy.length).toBeGreaterThan(10)
  })
})
