import {
  acos,
  coneExtent,
  exceedanceOfField,
  exp,
  type FieldSet,
  log,
  medianInPlace,
  workColumn
} from '@trueloop/ground/numerics'
import type { Stretch } from './noise.ts'
import type { Weighing } from './statistic.kernel.ts'
import { differences } from './texture.kernel.ts'

/** How the noise of a wall hangs together: what makes one place of it, and how many revolutions there are. */
export interface Texture {
  /** root of the gradient's variance around the wall, per element; correlation of neighboring revolutions */
  readonly slope: number
  readonly correlation: number
  readonly revolutions: number
}

/** What a texture counts for is taken in steps, so that like holes have one level: a step moves a level by less than 0.02. */
const FINER = log(1.06)
const CORRELATION_STEP = 0.03
const MOST_CORRELATION = 0.96
const EVERY = 2

const [sizeColumn, nextColumn, furtherColumn] = [workColumn(), workColumn(), workColumn()]

/**
 * Texture of the joined sizes along the middle of the cone, where the noise is round: from the medians of the size and of
 * its differences to the next element and to the next revolution.
 */
export function textureOf(
  { x, y }: { readonly x: Float64Array; readonly y: Float64Array },
  { perTurn, wall, weighing }: { readonly perTurn: number; readonly wall: Stretch; readonly weighing: Weighing }
): Texture {
  const count = Math.max(0, Math.floor((wall.to - perTurn - wall.from) / EVERY))
  const revolutions = Math.max(0, (wall.to - wall.from) / perTurn)
  if (count < 2) return { slope: 0, correlation: 0, revolutions }
  const [size, next, further] = [sizeColumn(count), nextColumn(count), furtherColumn(count)]
  differences({ x, y }, { along: alongCone(weighing), from: wall.from, every: EVERY, perTurn }, { size, next, further })
  const scale = medianInPlace(size)
  if (!(scale > 0)) return { slope: 0, correlation: 0, revolutions }
  const moved = medianInPlace(further) / scale
  return { slope: medianInPlace(next) / scale, correlation: 1 - 0.5 * moved * moved, revolutions }
}

/** Weights that read a size along the middle of the cone in the plane where the noise is round. */
function alongCone({ a, b, c, from, to }: Weighing): { readonly x: number; readonly y: number } {
  const y = (from.y + to.y) / c
  return { x: (from.x + to.x - b * y) / a, y }
}

/** What a wall offers to chance: how many places, how they hang together. */
export interface Field {
  readonly girth: number
  readonly halfAngle: number
  readonly revolutions: number
  readonly correlation: number
}

export function fieldOf(
  texture: Texture,
  { perTurn, weighing }: { readonly perTurn: number; readonly weighing: Weighing }
): Field {
  const { from, to } = weighing
  const halfAngle = 0.5 * acos(Math.max(-1, Math.min(1, from.x * to.x + from.y * to.y)))
  const correlation = Math.round(texture.correlation / CORRELATION_STEP) * CORRELATION_STEP
  return {
    girth: stepped(Math.max(1, texture.slope * perTurn)),
    halfAngle: stepped(Math.max(0.01, halfAngle)),
    revolutions: Math.round(stepped(Math.max(2, texture.revolutions))),
    correlation: Math.max(0, Math.min(MOST_CORRELATION, correlation))
  }
}

/**
 * Deviations of the noise by which a place has to stand out, so that the noise alone brings up `falseCalls` indications in
 * so much wall. Modelled, not shown.
 */
export const levelFor = (field: Field, falseCalls: number): number =>
  remembered(`level ${key(field)} ${falseCalls}`, () => {
    let [low, high] = [1, 12]
    for (let k = 0; k < BISECTIONS; k++) {
      const middle = 0.5 * (low + high)
      if (callsAbove(middle, field) > falseCalls) low = middle
      else high = middle
    }
    return high
  })

const BISECTIONS = 20

/** Indications that the noise alone brings up above a level, in steps of 0.05 of it: never fewer than the level itself gives. */
export function falseCallsAbove(level: number, field: Field): number {
  const below = Math.floor(level / LEVEL_STEP) * LEVEL_STEP
  return remembered(`calls ${key(field)} ${below}`, () => callsAbove(below, field))
}

const LEVEL_STEP = 0.05

/**
 * Exceedances, of either sign, of a Gaussian field over angle × revolution × direction within the cone. That a wall knows its
 * own noise only so well would raise their mean, that the larger of hole and reference is taken lowers it: both are left out.
 */
const callsAbove = (level: number, field: Field): number => 2 * exceedanceOfField(level, setOf(field))

const stepped = (value: number): number => exp(FINER * Math.ceil(log(value) / FINER))

const known = new Map<string, number>()
const MOST_KNOWN = 4096
const key = (field: Field): string => Object.values(field).join(' ')

/** Holes of a job have much the same texture: what is worked out for one is there for the next. */
function remembered(name: string, of: () => number): number {
  const before = known.get(name)
  if (before !== undefined) return before
  const value = of()
  if (known.size < MOST_KNOWN) known.set(name, value)
  return value
}

const setOf = (field: Field): FieldSet => ({
  extents: [{ length: field.girth, closed: true }, coneExtent(field.halfAngle)],
  rows: { count: field.revolutions, correlation: field.correlation }
})
