import { exp, log } from '@trueloop/ground/numerics'
import type { Asked, Plane } from './asked.ts'
import type { Along, Span } from './forms.ts'
import type { NotchLaw } from './law.ts'
import { likelihoodOf } from './likelihood.kernel.ts'
import {
  type Answers,
  type Column,
  chiAlong,
  type DepthColumns,
  lengthAlong,
  type Proportions,
  proportionsOf
} from './plane.kernel.ts'
import { type Turn, turnedAt } from './turn.ts'

/** A plane made ready: one column a length, the same depths in each. */
export interface Table {
  readonly weight: number
  readonly columns: readonly Column[]
  readonly flaws: Plane['behind']
  readonly depths: DepthColumns
  readonly answers: Answers
  readonly along: Along
  readonly proportions: Proportions
  /** by depth: one over what the rows leave of the lengths of flaws of the notches' proportions */
  readonly cut: Float64Array
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

/** The table of a plane for flaws that answer as asked, with the angle where the plane has a turn. */
export function tableOf(plane: Plane, grid: Grid, asked: Asked): Table {
  const { law, turn, behind, weight } = plane
  return {
    ...{ weight, flaws: behind, answers: answersOf(plane, asked) },
    ...readOnce(plane, grid, asked),
    depths: { ...grid.work, logs: grid.logs, ...turnOnce(turn, grid) },
    along: alongOnce(law, grid)
  }
}

/** What a hypothesis gives, whatever the law. */
interface Read extends Pick<Table, 'columns' | 'proportions' | 'cut'> {
  readonly grid: Grid
  readonly numbers: Asked['numbers']
  readonly aspect: number
}

const reads = new WeakMap<Plane['behind'], Read>()

function readOnce(plane: Plane, grid: Grid, asked: Asked): Read {
  const known = reads.get(plane.behind)
  if (known?.grid === grid && known.numbers === asked.numbers && known.aspect === plane.aspect) return known
  const columns = columnsOf(plane, asked)
  const proportions = proportionsOnce(plane, asked)
  const cut = cutOf({ columns, proportions }, grid)
  const read = { columns, proportions, cut, grid, numbers: asked.numbers, aspect: plane.aspect }
  reads.set(plane.behind, read)
  return read
}

const columnsOf = ({ aspect, behind, width_mm }: Plane, { numbers: { turnScatter } }: Asked): readonly Column[] =>
  behind.map(({ length_mm, x, y, xx, yy, misfit }) => ({
    size: Math.abs(y),
    variance: yy,
    misfit,
    logLength: log(Math.max(SHORTEST * width_mm, length_mm) / aspect),
    turn: x / y,
    turnVariance: xx / (y * y) + turnScatter * turnScatter
  }))

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

function cutOf({ columns, proportions }: Pick<Table, 'columns' | 'proportions'>, { logs }: Grid): Float64Array {
  const least = columns.reduce((low, { misfit }) => Math.min(low, misfit), Number.POSITIVE_INFINITY)
  const cut = new Float64Array(DEPTHS)
  for (const { logLength, misfit } of columns) {
    if (misfit > least + NOWHERE) continue
    const likelihood = likelihoodOf(misfit - least)
    lengthAlong(logs, { logLength, likelihood }, proportions.whole, cut)
  }
  for (let i = 0; i < DEPTHS; i++) cut[i] = 1 / Math.max(LEAST_LEFT, cut[i]!)
  return cut
}

/** No depth is lifted by more: where no length is left for it, it has next to no likelihood either. */
const LEAST_LEFT = 1e-9

/** The last grid: standards are asked about one after the other. */
let last: Grid | undefined

const isOf = (grid: Grid, deepest_mm: number): boolean => grid.deepest_mm === deepest_mm

interface Columns {
  readonly grid: Grid
  readonly along: Along
}

const alongs = new WeakMap<NotchLaw, Columns>()

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
export const withoutAngle = (table: Table): Table => ({
  ...table,
  columns: table.columns.map((column) => ({ ...column, turn: 0, turnVariance: 1 })),
  depths: { ...table.depths, turn: NO_TURN, turnVariance: NO_TURN }
})

const NO_TURN = new Float64Array(DEPTHS)

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

/** Chi-square of one length along the depths of a span, left in the table's own columns. */
export function look({ flaws, columns, depths, along, answers }: Table, j: number, span: Span): void {
  along(flaws[j]!, depths, span)
  chiAlong(depths, { column: columns[j]!, answers }, span)
}
