import { median, quantile } from '@trueloop/ground/numerics'
import { isRefusal, type Result } from '@trueloop/ground/refusal'
import { equipmentWith, type HoleSheet } from '../../plan/index.ts'
import { openHoleReference, type Standardization } from '../../standardize/index.ts'
import { ownReferenceIn } from './places.ts'

/** A point of the complex plane, or a factor: gain and rotation. */
export interface Point {
  readonly x: number
  readonly y: number
}

/** A whole recording, columns `[sample]`, recorded units. */
export interface Columns {
  readonly rate_Hz: number
  readonly x: Float64Array
  readonly y: Float64Array
  readonly index?: Float64Array
}

/** What the reference scan of a job teaches of its instrument, as it is recorded. */
export interface OwnReference {
  readonly rate_Hz: number
  readonly samples: number
  readonly standardization: Standardization
  /** recorded signal of the wall, which the generator has at zero */
  readonly wall: Point
  /** levels of the index channel, and the share of the time that it is high */
  readonly index?: { readonly low: number; readonly high: number; readonly share: number }
}

/** Reads the reference scan of a sheet for what recordings beside it have to be like. Refuses: as openHoleReference. */
export function ownReferenceOf(sheet: HoleSheet, columns: Columns): Result<OwnReference> {
  const { rate_Hz, x, index } = columns
  const change = ownReferenceIn(sheet)?.equipment
  const standardization = standardizedFrom({ ...sheet, equipment: equipmentWith(sheet.equipment, change) }, columns)
  if (isRefusal(standardization)) return standardization
  const wall = wallLevel(columns, standardization)
  return { rate_Hz, samples: x.length, standardization, wall, ...(index === undefined ? {} : { index: levels(index) }) }
}

/** The standardization of a reference scan that is at hand as a whole. */
export function standardizedFrom(sheet: HoleSheet, { rate_Hz, x, y, index }: Columns): Result<Standardization> {
  const { technique, reference_standard: standard, equipment } = sheet
  const run = openHoleReference({ technique, standard, equipment, rate_Hz, indexed: index !== undefined })
  if (isRefusal(run)) return run
  const taken = run.take({ first: 0, channels: [{ x, y }], aux: index === undefined ? {} : { index } })
  const closed = isRefusal(taken) ? taken : run.close()
  return isRefusal(closed) ? closed : closed.standardization
}

export const times = (a: Point, b: Point): Point => ({ x: a.x * b.x - a.y * b.y, y: a.x * b.y + a.y * b.x })

/** a / b, complex. */
export function over(a: Point, b: Point): Point {
  const square = b.x * b.x + b.y * b.y
  return { x: (a.x * b.x + a.y * b.y) / square, y: (a.y * b.x - a.x * b.y) / square }
}

export const sizeOf = ({ x, y }: Point): number => Math.sqrt(x * x + y * y)

/** Without samples that could not be read. */
const read = (values: Float64Array): Float64Array => values.filter((value) => !Number.isNaN(value))

/** A share of the samples that is surely metal in a scan of a standard. */
const SURELY = 0.05

/** Median of what lies on the metal's side of half the step to the air. */
function wallLevel({ x, y }: Columns, { airStep, turn }: Standardization): Point {
  const step = over(airStep, turn)
  const toAir = x.map((value, i) => value * step.x + y[i]! * step.y)
  const limit = quantile(read(toAir), SURELY) + 0.5 * sizeOf(step) * sizeOf(step)
  const isWall = (_: number, i: number): boolean => toAir[i]! < limit
  return { x: median(x.filter(isWall)), y: median(y.filter(isWall)) }
}

function levels(index: Float64Array) {
  const [low, high] = [quantile(read(index), 0), quantile(read(index), 1)]
  const middle = 0.5 * (low + high)
  return { low, high, share: index.filter((value) => value > middle).length / index.length }
}
