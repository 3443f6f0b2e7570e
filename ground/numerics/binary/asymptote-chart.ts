import { exp, log } from '../elementary.ts'
import type { Height } from './climb.ts'
import { summedAt } from './condense.kernel.ts'
import { type Link, lawOf } from './links.ts'
import { type Asymptotes, asymptoteSums, type ColumnSums } from './sums.kernel.ts'
import type { Tally } from './tally.ts'

/** The coefficients of a curve between two asymptotes, in standardized x. */
export interface Natural extends Asymptotes {
  readonly b0: number
  readonly b1: number
}

/** What is sought: the slope always, the asymptotes named, and the height unless the curve is held at a place. */
export interface Sought {
  readonly tally: Tally
  readonly link: Link
  readonly free: readonly (keyof Asymptotes)[]
  /** the curve passes `share` at z */
  readonly through?: { readonly share: number; readonly z: number }
  /** what isn't sought keeps its value here */
  readonly fixed: Asymptotes
}

const logistic = (t: number): number => 1 / (1 + exp(-t))

/** Values of the coefficients and what each changes by with each parameter: 4 rows of as many columns. */
interface Charted {
  readonly natural: Natural
  readonly columns: readonly Float64Array[]
}

/**
 * Parameters without ends: floor = top L(c), ceiling = floor + (1 - floor) L(d), L(t) = 1/(1 + e^-t), top the ceiling
 * where that is fixed, else 1. A curve held at a place has b0 = g((share - floor)/(ceiling - floor)) - b1 z.
 */
function chart(sought: Sought, theta: Float64Array): Charted {
  const { free, through, fixed } = sought
  const own = through === undefined ? 1 : 0
  const b1 = theta[own]!
  const [isFloor, isCeiling] = [free.includes('floor'), free.includes('ceiling')]
  const top = isCeiling ? 1 : fixed.ceiling
  const c = isFloor ? logistic(theta[own + 1]!) : 0
  const d = isCeiling ? logistic(theta[theta.length - 1]!) : 0
  const floor = isFloor ? top * c : fixed.floor
  const ceiling = isCeiling ? floor + (1 - floor) * d : fixed.ceiling
  const perC = top * c * (1 - c)
  const asymptoteColumns = [
    ...(isFloor ? [[perC, isCeiling ? (1 - d) * perC : 0] as const] : []),
    ...(isCeiling ? [[0, (1 - floor) * d * (1 - d)] as const] : [])
  ]
  if (through === undefined) {
    const columns = [Float64Array.of(1, 0, 0, 0), Float64Array.of(0, 1, 0, 0)]
    const rest = asymptoteColumns.map(([a, b]) => Float64Array.of(0, 0, a, b))
    return { natural: { b0: theta[0]!, b1, floor, ceiling }, columns: [...columns, ...rest] }
  }
  const { eta, perFloor, perCeiling } = held(sought.link, through.share, { floor, ceiling })
  const rest = asymptoteColumns.map(([a, b]) => Float64Array.of(perFloor * a + perCeiling * b, 0, a, b))
  return {
    natural: { b0: eta - b1 * through.z, b1, floor, ceiling },
    columns: [Float64Array.of(-through.z, 1, 0, 0), ...rest]
  }
}

/** eta at which floor + (ceiling - floor) F(eta) is the share, with its derivatives; NaN where it never is. */
function held(link: Link, share: number, { floor, ceiling }: Asymptotes) {
  const u = (share - floor) / (ceiling - floor)
  const law = lawOf(link)
  const eta = u > 0 && u < 1 ? law.place(u) : Number.NaN
  const term = { log: 0, first: 0, second: 0 }
  law.hit(eta, term)
  const perU = 1 / (u * term.first * (ceiling - floor))
  return { eta, perFloor: (u - 1) * perU, perCeiling: -u * perU }
}

export interface Found extends Natural {
  readonly sums: ColumnSums
}

export function foundAt(sought: Sought, theta: Float64Array): Found {
  const { natural } = chart(sought, theta)
  return { ...natural, sums: asymptoteSums(lawOf(sought.link), summedAt(sought.tally, Math.abs(natural.b1)), natural) }
}

/** Likelihood over the parameters, with its gradient and the expected information. */
export function chartHeight(sought: Sought, theta: Float64Array): Height {
  const { natural, columns } = chart(sought, theta)
  const { value, gradient, curvature } = asymptoteSums(
    lawOf(sought.link),
    summedAt(sought.tally, Math.abs(natural.b1)),
    natural
  )
  const times = (column: Float64Array, vector: (row: number) => number): number =>
    column.reduce((sum, part, row) => (part === 0 ? sum : sum + part * vector(row)), 0)
  const turned = columns.map((column) =>
    columns.map((other) => times(column, (row) => times(other, (k) => curvature[4 * row + k]!)))
  )
  return {
    value: Number.isNaN(value) ? Number.NEGATIVE_INFINITY : value,
    gradient: Float64Array.from(columns, (column) => times(column, (row) => gradient[row]!)),
    curvature: Float64Array.from(turned.flat())
  }
}

/** t with whole L(t) = part */
const logit = (part: number, whole: number): number => -log(whole / part - 1)

/** Parameters of given coefficients. */
export function parametersOf({ free, through, fixed }: Sought, at: Natural): Float64Array {
  const top = free.includes('ceiling') ? 1 : fixed.ceiling
  return Float64Array.of(
    ...(through === undefined ? [at.b0] : []),
    at.b1,
    ...(free.includes('floor') ? [logit(at.floor, top)] : []),
    ...(free.includes('ceiling') ? [logit(at.ceiling - at.floor, 1 - at.floor)] : [])
  )
}
