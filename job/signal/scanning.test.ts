/**
 * Oracles: the conditioner (checked against SciPy in band.test.ts) followed by a plain sum over the shape; the same wall at
 * every ruler point; sums of cosines whose content is known.
 */
import { describe, expect, it } from 'vitest'
import type { Revolution } from './angle-ruler.ts'
import { gridStep, UNIT } from './band.ts'
import { conditioner } from './condition.ts'
import { fineAround } from './fine.ts'
import { type ScannedUnit, Scanning, scanKernels } from './scanning.ts'
import { standardized } from './signal.ts'

const band = { low: 2.66, high: 14.96 }
const turn = { x: 0.6, y: -1.1 }
const half = 40
const shape = Float64Array.from({ length: 2 * half + 1 }, (_, k) => {
  const u = (k - half) / 14
  return -u * Math.exp(-0.5 * u * u) * 0.1
})

/** A wall with content up to 60 cycles a revolution, not periodic in one of them. */
const wall = (point: number) => {
  let x = 0.3
  let y = -0.2
  for (let k = 1; k <= 60; k += 1.7) {
    x += Math.cos(((2 * Math.PI * k) / UNIT) * point + k * k) / (3 + k)
    y += Math.sin(((2 * Math.PI * k) / UNIT) * point + 2 * k) / (5 + k)
  }
  return { x, y }
}

function revolution(number: number, step: number, of = wall): Revolution {
  const at = (i: number) => of(number * UNIT + i * step)
  const length = UNIT / step
  return {
    number,
    signal: {
      state: 'placed',
      axis: 'angle',
      first: number * UNIT,
      x: Float64Array.from({ length }, (_, i) => at(i).x),
      y: Float64Array.from({ length }, (_, i) => at(i).y)
    },
    hollow: 0,
    noiseGain: 0,
    samples: 1000,
    lost: false,
    unread: 0
  }
}

interface Scanned {
  readonly x: readonly number[]
  readonly y: readonly number[]
  readonly cx: readonly number[]
  readonly cy: readonly number[]
  readonly units: readonly (Pick<ScannedUnit, 'first' | 'step'> & { harmonics: readonly number[]; mean: number })[]
}

function scan(step: number, of = wall, count = 4): Scanned {
  const out = { x: [] as number[], y: [] as number[], cx: [] as number[], cy: [] as number[], units: [] as never[] }
  const scanning = new Scanning(scanKernels({ band, turn, shape, step }), (unit) => {
    out.x.push(...unit.signal.x)
    out.y.push(...unit.signal.y)
    out.cx.push(...unit.fitted.x)
    out.cy.push(...unit.fitted.y)
    out.units.push({
      first: unit.first,
      step: unit.step,
      harmonics: [...unit.harmonics],
      mean: unit.mean.x[5]!
    } as never)
  })
  for (let number = 0; number < count; number++) scanning.take(revolution(number, step, of))
  return out
}

const farthest = (a: readonly number[], b: readonly number[]) =>
  a.reduce((most, value, i) => Math.max(most, Math.abs(value - b[i]!)), 0)

describe('Scanning', () => {
  const whole = scan(1)

  it('gives units that begin half a revolution after the first of two', () => {
    expect(whole.units.map(({ first }) => first)).toEqual([256, 768, 1280])
    expect(scan(4).units.map(({ first, step }) => [first, step])).toEqual([
      [256, 4],
      [768, 4],
      [1280, 4]
    ])
  })

  it('is the conditioner, standardized', () => {
    const condition = conditioner<'angle'>(band)
    for (const [k, start] of [0, UNIT, 2 * UNIT].entries()) {
      const column = (of: 'x' | 'y') => Float64Array.from({ length: 2 * UNIT }, (_, i) => wall(start + i)[of])
      const placed = { state: 'placed' as const, axis: 'angle' as const, first: start, x: column('x'), y: column('y') }
      const { signal } = condition(placed)
      const twin = standardized(signal, turn)
      expect(farthest([...twin.x], whole.x.slice(k * UNIT))).toBeLessThan(1e-12)
      expect(farthest([...twin.y], whole.y.slice(k * UNIT))).toBeLessThan(1e-12)
    }
  })

  it('fits the shape: a plain sum over it, but for the ends of a kernel of ± half a revolution', () => {
    // the notch's pulse at three places
    const pulses = scan(1, (point) => {
      const pulse = (at: number) => (-(point - at) / 14) * Math.exp(-0.5 * ((point - at) / 14) ** 2)
      return { x: pulse(500) - pulse(1300), y: pulse(500) + 0.5 * pulse(900) }
    })
    const size = Math.max(...pulses.cx.map(Math.abs), ...pulses.cy.map(Math.abs))
    const sum = (column: readonly number[], at: number) =>
      shape.reduce((total, s, k) => total + s * column[at + k - half]!, 0)
    for (let at = half; at < pulses.x.length - half; at += 3) {
      expect(Math.abs(sum(pulses.x, at) - pulses.cx[at]!)).toBeLessThan(0.02 * size)
      expect(Math.abs(sum(pulses.y, at) - pulses.cy[at]!)).toBeLessThan(0.02 * size)
    }
  })

  it.each([2, 4])('is the same wall at every %i-th ruler point', (step) => {
    const thin = scan(step)
    const size = Math.max(...whole.x.map(Math.abs))
    for (const of of ['x', 'y', 'cx', 'cy'] as const) {
      const every = whole[of].filter((_, i) => i % step === 0)
      expect(farthest(thin[of], every)).toBeLessThan(2e-3 * size)
    }
    expect(thin.units[0]!.mean).toBeCloseTo(whole.units[0]!.mean, 1)
  })

  it('knows what comes once, twice and three times a revolution', () => {
    const scanning = new Scanning(scanKernels({ band, turn, shape, step: 4 }), (unit) => {
      const gain = Math.hypot(turn.x, turn.y)
      ;[0.7, 0.3, 0.9].forEach((size, k) => {
        expect(unit.harmonics[k]! / gain).toBeCloseTo(size, 10)
      })
    })
    const column = (turns: (t: number) => number) =>
      Float64Array.from({ length: 128 }, (_, i) => turns((2 * Math.PI * i) / 128))
    // once: on a line; twice: on a circle; three times: on an ellipse of half axes 0.9 and 0.1
    const x = column((t) => 5 + 0.7 * Math.cos(t) + 0.3 * Math.cos(2 * t) + 0.9 * Math.cos(3 * t))
    const y = column((t) => 0.3 * Math.sin(2 * t) + 0.1 * Math.sin(3 * t))
    for (const number of [0, 1]) {
      const { signal, ...rest } = revolution(number, 4)
      scanning.take({ ...rest, signal: { ...signal, x, y } })
    }
  })
})

describe('gridStep', () => {
  it.each([
    [{ low: 2, high: 9 }, 8],
    [{ low: 2.66, high: 14.96 }, 4],
    [{ low: 2.66, high: 20 }, 2],
    [{ low: 5, high: 58 }, 1],
    [{ low: 5, high: 120 }, 1]
  ])('of %j is %i: 3.5 elements a cycle where the band ends', (some, step) => expect(gridStep(some)).toBe(step))
})

describe('fineAround', () => {
  it.each([1, 2, 4, 8])('gives a banded wall at every ruler point from every %i-th', (step) => {
    // content up to 29 cycles a revolution: where the band of this step ends at the most
    const most = step === 8 ? 14 : 29
    const at = (point: number) => {
      let sum = 0
      for (let k = 0; k <= most; k++) sum += Math.cos(((2 * Math.PI * k) / UNIT) * point + 3 * k) / (most + 1)
      return sum
    }
    const column = Float64Array.from({ length: UNIT }, (_, i) => at(i * step))
    const fine = fineAround(column, 200, { half: 42, step })
    expect(
      farthest(
        [...fine],
        Array.from(fine, (_, k) => at(200 * step + k - 42))
      )
    ).toBeLessThan(3e-4)
    expect(fine[42]).toBe(column[200])
  })
})
