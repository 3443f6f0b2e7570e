import { cos, exp, PI, randomFrom, sin } from '@trueloop/ground/numerics'
import type { Sheet } from '../../sheet.ts'
import type { FeatureContext } from '../context.ts'

/**
 * Sheets painted from first principles: a differential pair of pick-ups makes the derivative of a bell of anything small,
 * along the angle; along the axis it is seen through a bell. Everything is the test's own arithmetic.
 */
export const SPACING = 32
export const UNIT = 512
export const PITCH = 0.25e-3
const SIGMA = SPACING / 2
const DEG = PI / 180

export interface Mark {
  /** ruler point of its middle, and the direction in degrees */
  readonly at: number
  readonly direction: number
  readonly size: number
  /** half of its length along the axis, revolutions, beyond which it falls off as a bell of `fall` revolutions */
  readonly reach?: number
  readonly fall?: number
  /** lobes' distance over the notch's */
  readonly width?: number
  /** turns that it moves each revolution */
  readonly helix?: number
}

export type Painter = (point: number) => { readonly x: number; readonly y: number }

const bell = (u: number): number => exp(-0.5 * u * u)
/** Derivative of a bell with its extremes at ±1 and a peak-to-peak of 1: as a notch passes. */
export const pulse = (u: number): number => -0.5 * u * exp(0.5 - 0.5 * u * u)

/** One mark on the wall; it repeats each revolution, weaker along the axis. */
export function mark({ at, direction, size, reach = 1, fall = 1.5, width = 1, helix = 0 }: Mark): Painter {
  const [ux, uy] = [cos(direction * DEG), sin(direction * DEG)]
  return (point) => {
    const turn = Math.round((point - at) / (UNIT * (1 + helix)))
    const beyond = Math.max(0, Math.abs(turn) - reach)
    const offset = point - at - turn * UNIT * (1 + helix)
    const value = size * bell(beyond / fall) * pulse(offset / (SIGMA * width))
    return { x: ux * value, y: uy * value }
  }
}

/** Cells of noise lie so far apart, and a cell's pulse is this tall, that the fitted size has the deviation that is asked for. */
const CELL = SIGMA / 2
const CELL_SIZE = (() => {
  // autocorrelation of the derivative of a bell at the lag τ over that at 0: (1 − τ²/2σ²)·exp(−τ²/4σ²)
  let sum = 0
  for (let k = -40; k <= 40; k++) {
    const square = (k * CELL * (k * CELL)) / (SIGMA * SIGMA)
    const share = (1 - square / 2) * exp(-square / 4)
    sum += share * share
  }
  return 1 / Math.sqrt(sum)
})()

/** Noise with the notch's own spectrum, of a deviation of each component of the fitted size; or along one direction only. */
export function noise(label: string, deviation: number, direction?: number): Painter {
  const random = randomFrom(label)
  const values = new Map<number, { x: number; y: number }>()
  const at = (cell: number) => {
    const known = values.get(cell)
    if (known !== undefined) return known
    const one = random.fork(`${cell}`)
    const fresh =
      direction === undefined
        ? { x: one.normal() * deviation, y: one.normal() * deviation }
        : alongLine(one.normal() * deviation, direction)
    values.set(cell, fresh)
    return fresh
  }
  return (point) => {
    let x = 0
    let y = 0
    const middle = Math.round(point / CELL)
    for (let cell = middle - 10; cell <= middle + 10; cell++) {
      const weight = CELL_SIZE * pulse((point - cell * CELL) / SIGMA)
      x += weight * at(cell).x
      y += weight * at(cell).y
    }
    return { x, y }
  }
}

const alongLine = (value: number, direction: number) => ({
  x: value * cos(direction * DEG),
  y: value * sin(direction * DEG)
})

/** A line of so many a revolution along a direction, all along the pass; or around one revolution only, as a bell. */
export function wave({ perTurn, direction, size, at, fall = 1 }: Wave): Painter {
  const [ux, uy] = [cos(direction * DEG), sin(direction * DEG)]
  return (point) => {
    const away = at === undefined ? 0 : (point - at) / (UNIT * fall)
    const value = 0.5 * size * bell(away) * sin((2 * PI * perTurn * point) / UNIT + perTurn * perTurn)
    return { x: ux * value, y: uy * value }
  }
}

export interface Wave {
  readonly perTurn: number
  readonly direction: number
  readonly size: number
  readonly at?: number
  readonly fall?: number
}

/** A single lobe: a bell without its derivative, as nothing that passes both pick-ups can be. */
export function lobe({ at, direction, size, reach = 1, fall = 1.5, width = 1 }: Mark): Painter {
  const [ux, uy] = [cos(direction * DEG), sin(direction * DEG)]
  return (point) => {
    const turn = Math.round((point - at) / UNIT)
    const value =
      size * bell(Math.max(0, Math.abs(turn) - reach) / fall) * bell((point - at - turn * UNIT) / (SIGMA * width))
    return { x: ux * value, y: uy * value }
  }
}

/** The notch itself as a form: at its direction, 1 peak to peak. */
export function formAt(direction: number): FeatureContext['form'] {
  const half = Math.round(1.25 * SPACING)
  const one = (of: number) => Array.from({ length: 2 * half + 1 }, (_, k) => of * pulse((k - half) / SIGMA))
  return { half, x: one(cos(direction * DEG)), y: one(sin(direction * DEG)) }
}

export interface SheetRule {
  readonly turns: number
  readonly step?: number
  readonly first?: number
  readonly harmonics?: readonly [number, number, number]
}

/** A sheet of all painters together; c is the plain least-squares size of the pulse at each place. */
export function painted(
  painters: readonly Painter[],
  { turns, step = 2, first = 0, harmonics = [0, 0, 0] }: SheetRule
): Sheet {
  const perTurn = UNIT / step
  const length = turns * perTurn
  const beside = Math.floor((1.25 * SPACING) / step)
  const x = new Float64Array(length + 2 * beside)
  const y = new Float64Array(length + 2 * beside)
  for (let i = 0; i < x.length; i++) {
    const point = first + (i - beside) * step
    for (const painter of painters) {
      const value = painter(point)
      x[i]! += value.x
      y[i]! += value.y
    }
  }
  const c = sizes({ x, y }, { beside, step, length })
  const own = (column: Float64Array) => column.slice(beside, beside + length)
  const rows = Float64Array.from({ length: 3 * turns }, (_, i) => harmonics[i % 3]!)
  return { first, step, perTurn, length, x: own(x), y: own(y), ...c, harmonics: rows }
}

function sizes(
  { x, y }: { readonly x: Float64Array; readonly y: Float64Array },
  { beside, step, length }: { readonly beside: number; readonly step: number; readonly length: number }
) {
  const shape = Float64Array.from({ length: 2 * beside + 1 }, (_, k) => pulse(((k - beside) * step) / SIGMA))
  const square = shape.reduce((sum, value) => sum + value * value, 0)
  const fit = (column: Float64Array, i: number) => shape.reduce((sum, s, k) => sum + s * column[i + k]!, 0) / square
  return {
    cx: Float64Array.from({ length }, (_, i) => fit(x, i)),
    cy: Float64Array.from({ length }, (_, i) => fit(y, i))
  }
}

/** What places are measured against on painted sheets: notches at 75 to 95 degrees, a part of two layers of 4 mm. */
export const contextOf = (more: Partial<FeatureContext> = {}): FeatureContext => ({
  form: formAt(85),
  notchPhases: [75 * DEG, 85 * DEG, 95 * DEG],
  noise: { xx: 1e-4, xy: 0, yy: 1e-4 },
  expectedRows: 4,
  half: Math.round(1.25 * SPACING),
  ...more
})

/** Depth along a painted pass, its entry face at the given ruler point, and its layers. */
export const stack = (entry: number): Pick<FeatureContext, 'depth' | 'layers'> => ({
  depth: (point) => ((point - entry) / UNIT) * PITCH,
  layers: [
    { z0_m: 0, z1_m: 4e-3 },
    { z0_m: 4e-3, z1_m: 8e-3 }
  ]
})
