import { exp, log } from '@trueloop/ground/numerics'
import type { Asked, Plane } from './asked.ts'
import { bestLength } from './fits.ts'
import type { Along, Span } from './forms.ts'
import type { NotchLaw } from './law.ts'
import { likelihoodOf } from './likelihood.kernel.ts'
import {
  type Answers,
  type Chi,
  type Columns,
  chiAlong,
  type DepthColumns,
  lengthAlong,
  type Proportions,
  proportionsOf
} from './plane.kernel.ts'
import { type Turn, turnedAt } from './turn.ts'

/** A plane made ready: one column a length, the same depths in each. */
export interface Table extends Chi {
  readonly weight: number
  /** of each length, what the form of the law asks of it */
  readonly fillings: Float64Array
  readonly along: Along
  readonly seen: Seen
}

/** What a hypothesis gives, whatever the law. */
export interface Seen {
  readonly columns: Columns
  readonly leastMisfit: number
  readonly proportions: Proportions
  readonly grid: Grid
  /** by depth, as far as it was asked for: what the rows leave of the lengths of flaws of the notches' proportions */
  readonly left: Float64Array
  readonly known: { from: number; to: number }
}

/** Depths of constant ratio, their logarithms, and columns to work in. */
export interface Grid {
  readonly deepest_mm: number
  readonly depths_mm: Float64Array
  readonly logs: Float64Array
  readonly work: Pick<DepthColumns, 'part' | 'slope' | 'chi' | 'sharpness'>
}

export const DEPTHS = 160
/** Depths looked at: down to this share of the deepest notch, and up to this multiple of it. */
const LEAST = 1 / 60
const MOST = 3

export function depthGrid(deepest_mm: number): Grid {
  if (last !== undefined && isOf(last, deepest_mm)) return last
  const first = log(deepest_mm * LEAST)
  const step = log(MOST / LEAST) / (DEPTHS - 1)
  const column = () => new Float64Array(DEPTHS)
  const [depths_mm, logs] = [column(), column()]
  for (let i = 0; i < DEPTHS; i++) {
    logs[i] = first + step * i
    depths_mm[i] = exp(logs[i]!)
  }
  last = { deepest_mm, depths_mm, logs, work: { part: column(), slope: column(), chi: column(), sharpness: column() } }
  return last
}

/** A length of less than this share of the footprint has the proportions of that: the logarithm is held off its end. */
const SHORTEST = 0.01

/** Tables of planes for flaws that answer as asked, with the angle where a plane has a turn. Laws of one kind share its fits. */
export function tablesOf(planes: readonly Plane[], grid: Grid, asked: Asked): readonly Table[] {
  const { part, slope, chi, sharpness } = grid.work
  const tables: Table[] = []
  let seen: Seen | undefined
  for (let k = 0; k < planes.length; k++) {
    const plane = planes[k]!
    const { law, behind, weight } = plane
    if (seen === undefined || planes[k - 1]?.behind !== behind) seen = seenOf(plane, grid, asked)
    const { turn, turnVariance } = turnOnce(plane.turn, grid)
    const depths = { logs: grid.logs, turn, turnVariance, part, slope, chi, sharpness }
    const [fillings, along, answers] = [law.form.fillings(behind), alongOnce(law, grid), answersOf(plane, asked)]
    tables.push({ depths, columns: seen.columns, answers, weight, fillings, along, seen })
  }
  return tables
}

function seenOf(plane: Plane, grid: Grid, asked: Asked): Seen {
  const columns = columnsOf(plane, asked)
  const leastMisfit = columns.misfit[bestLength(columns)]!
  const proportions = proportionsOnce(plane, asked)
  return { columns, leastMisfit, proportions, grid, left: new Float64Array(DEPTHS), known: { from: 0, to: 0 } }
}

function columnsOf({ aspect, behind, width_mm }: Plane, { numbers: { turnScatter } }: Asked): Columns {
  const { x, y, xx, yy, misfit, logs } = behind
  const [least, per] = [log(SHORTEST * width_mm), log(aspect)]
  const column = () => new Float64Array(x.length)
  const columns = { size: column(), variance: yy, misfit, logLength: column(), turn: column(), turnVariance: column() }
  for (let j = 0; j < x.length; j++) {
    columns.size[j] = Math.abs(y[j]!)
    columns.logLength[j] = Math.max(least, logs[j]!) - per
    columns.turn[j] = x[j]! / y[j]!
    columns.turnVariance[j] = xx[j]! / (y[j]! * y[j]!) + turnScatter * turnScatter
  }
  return columns
}

const mixtures = new WeakMap<Asked['numbers'], Map<number, Proportions>>()

/** Kinds of a standard have few spreads. */
const MOST_SPREADS = 32

function proportionsOnce(plane: Plane, asked: Asked): Proportions {
  const all = mixtures.get(asked.numbers) ?? new Map<number, Proportions>()
  const known = all.get(plane.aspectSpread)
  if (known !== undefined) return known
  const proportions = proportionsIn(plane, asked)
  if (all.size >= MOST_SPREADS) all.clear()
  all.set(plane.aspectSpread, proportions)
  mixtures.set(asked.numbers, all)
  return proportions
}

/** The notches' own proportions; some flaws have others, as wide as those of cracks. */
function proportionsIn({ aspectSpread }: Plane, { numbers }: Asked): Proportions {
  const { aspectSpread: wide, otherProportions } = numbers
  const spread = Math.min(wide, aspectSpread)
  return proportionsOf({
    proportions: 1 / (wide * wide),
    wide: otherProportions,
    close: ((1 - otherProportions) * wide) / spread,
    closer: 1 / (spread * spread) - 1 / (wide * wide)
  })
}

/** Columns whose rows are worse than the best by more add nothing. */
const NOWHERE = 16

/** What the rows leave of the lengths of flaws of the notches' proportions, known at least at the depths of a span. */
export function leftAlong(seen: Seen, { from, to }: Pick<Span, 'from' | 'to'>): Float64Array {
  const { known, left } = seen
  if (known.from === known.to) known.from = known.to = from
  addLengths(seen, { from, to: Math.min(to, known.from), step: 1 })
  addLengths(seen, { from: Math.max(from, known.to), to, step: 1 })
  known.from = Math.min(from, known.from)
  known.to = Math.max(to, known.to)
  return left
}

function addLengths({ columns: { misfit, logLength }, leastMisfit, proportions, grid, left }: Seen, span: Span): void {
  if (!(span.from < span.to)) return
  const into = { logs: grid.logs, whole: proportions.whole, sums: left }
  for (let j = 0; j < misfit.length; j++) {
    const off = misfit[j]! - leastMisfit
    if (!(off > NOWHERE)) lengthAlong(into, logLength[j]!, likelihoodOf(off), span)
  }
}

/** The last grid: standards are asked about one after the other. */
let last: Grid | undefined

const isOf = (grid: Grid, deepest_mm: number): boolean => grid.deepest_mm === deepest_mm

interface Ready {
  readonly grid: Grid
  readonly along: Along
}

const alongs = new WeakMap<NotchLaw, Ready>()

/** The form of a law along the depths of a grid, once a law. */
function alongOnce(law: NotchLaw, grid: Grid): Along {
  const known = alongs.get(law)
  if (known?.grid === grid) return known.along
  const along = law.form.over(grid.depths_mm, law.scale)
  alongs.set(law, { grid, along })
  return along
}

interface TurnColumns extends Pick<DepthColumns, 'turn' | 'turnVariance'> {
  readonly grid: Grid
}

const turns = new WeakMap<Turn, TurnColumns>()

function turnOnce(turn: Turn | undefined, grid: Grid): Pick<DepthColumns, 'turn' | 'turnVariance'> {
  const known = turn === undefined ? undefined : turns.get(turn)
  if (known?.grid === grid) return { turn: known.turn, turnVariance: known.turnVariance }
  const columns = turnAlong(turn, grid)
  if (turn !== undefined) turns.set(turn, { grid, ...columns })
  return columns
}

/** The same by size, rows and proportions alone. */
export function withoutAngle({ depths, columns, answers, weight, fillings, along, seen }: Table): Table {
  const { size, variance, misfit, logLength } = columns
  const { logs, part, slope, chi, sharpness } = depths
  const [turn, turnVariance] = [NONE.subarray(0, size.length), ONES.subarray(0, size.length)]
  return {
    depths: { logs, turn: NO_TURN, turnVariance: NO_TURN, part, slope, chi, sharpness },
    columns: { size, variance, misfit, logLength, turn, turnVariance },
    answers,
    weight,
    fillings,
    along,
    seen
  }
}

const NO_TURN = new Float64Array(DEPTHS)
const NONE = new Float64Array(DEPTHS)
const ONES = new Float64Array(DEPTHS).fill(1)

/** The law's own uncertainty, the scatter of notches and that of how cracks answer. */
function answersOf({ law }: Plane, { answering: { ratio, variance }, numbers }: Asked): Answers {
  const { ff, fs, ss } = law.spread
  const full = ratio * law.full
  const relative = law.scatter * law.scatter + variance / (ratio * ratio)
  return {
    full,
    proportions: 1 / (numbers.aspectSpread * numbers.aspectSpread),
    pp: ratio * ratio * ff + relative * full * full,
    ps: 2 * ratio * full * fs,
    ss: full * full * ss
  }
}

function turnAlong(turn: Turn | undefined, { depths_mm }: Grid): Pick<DepthColumns, 'turn' | 'turnVariance'> {
  if (turn === undefined) return { turn: NO_TURN, turnVariance: NO_TURN }
  const at = new Float64Array(DEPTHS)
  const variance = new Float64Array(DEPTHS)
  for (let i = 0; i < DEPTHS; i++) {
    const expected = turnedAt(turn, depths_mm[i]!)
    at[i] = expected.ratio
    variance[i] = expected.variance
  }
  return { turn: at, turnVariance: variance }
}

/** Chi-square of one length along the depths of a span, left in the table's own columns; gives the least of them. */
export function look(table: Table, j: number, span: Span): number {
  table.along(table.fillings[j]!, table.depths, span)
  return chiAlong(table, j, span)
}
