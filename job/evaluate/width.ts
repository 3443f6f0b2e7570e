import { exp, log } from '@trueloop/ground/numerics'
import { anchored, bestPlace, type Edge, type Seeing } from './behind.ts'
import { whole } from './fits.ts'
import { deviationOf } from './footprint.ts'
import { lengthsFor } from './lengths.ts'
import { leastOf, lowest, lowestBeside } from './picks.ts'
import { type RowNoise, type Rows, within } from './rows.ts'

/** The footprint of the probe along the axis, measured on notches of certified length. */

export interface Seen {
  readonly rows: Rows
  readonly length_mm: number
  /** the face that it touches, as certified */
  readonly face?: Pick<Edge, 'face_mm' | 'side'>
}

export interface Footprint {
  /** width at half height */
  readonly width_mm: number
  /** by how much lengths told through it differ from the certified ones */
  readonly scatter_mm: number
  /** of notches that touch a face, at their certified places */
  readonly atFace?: true
  /** deviation over which the answer fades toward a face, where those show that it does */
  readonly fade_mm?: number
}

const STEPS = 18
/** Widths looked at, as shares of the shortest −6 dB extent: a point shows the width itself, nothing shows less. */
const LEAST = 0.4
const MOST = 1.3

/**
 * Width at which notches of their certified lengths explain their rows best (least squares over all of them), and the
 * scatter of the lengths of those that are at least as long as it. Undefined without notches.
 */
export function footprintOf(
  notches: readonly Seen[],
  seeing: Omit<Seeing, 'width_mm'>,
  lengthScatter: number
): Footprint | undefined {
  if (notches.length === 0) return undefined
  const shortest = Math.min(...notches.map(({ rows: { half } }) => half.to - half.from))
  if (!(shortest > 0)) return undefined
  const widths = Array.from({ length: STEPS + 1 }, (_, i) => shortest * (LEAST + ((MOST - LEAST) * i) / STEPS))
  const near = energetic(
    notches.map(({ rows, length_mm }) => ({ rows: within(rows, shortest), length_mm })),
    seeing
  )
  const misfits = widths.map((width_mm) => misfitOf(near, { ...seeing, width_mm }))
  const width_mm = lowest(widths, misfits)
  return { width_mm, scatter_mm: scatterOf(notches, { ...seeing, width_mm }, lengthScatter * width_mm) }
}

/** Fades looked at, as shares of the footprint's deviation, and how many. */
const LEAST_FADE = 0.15
const MOST_FADE = 1.6
const FADES = 12
/** Times that width and fade are found in turn. */
const ROUNDS = 6

/**
 * Width and fade at which notches that touch a face at their certified places and lengths explain their rows best: the
 * footprint there may be another than in the bore (a pair of pick-ups along the axis shows a free flaw twice, one at a face
 * once), and the face may take from it. Undefined where a notch's face is not known.
 * source: split-d-2011
 */
export function footprintAtFace(
  notches: readonly Seen[],
  seeing: Omit<Seeing, 'width_mm'>,
  { lengthScatter, faceScatter }: { readonly lengthScatter: number; readonly faceScatter: number }
): Footprint | undefined {
  if (notches.length === 0 || notches.some(({ face }) => face === undefined)) return undefined
  const longest = Math.max(...notches.map(({ rows: { half } }) => half.to - half.from))
  const shortest = Math.min(...notches.map(({ rows: { half } }) => half.to - half.from))
  if (!(shortest > 0)) return undefined
  const near = energetic(
    notches.map((one) => ({ ...one, rows: within(one.rows, shortest) })),
    seeing
  )
  const widths = factors(LEAST_AT_FACE * shortest, Math.min(MOST_AT_FACE * shortest, longest + shortest), STEPS)
  const misfitAt = (width_mm: number, fade?: number) =>
    misfitOf(near, { ...seeing, width_mm }, { touching_mm: faceScatter, ...fadeOf(width_mm, fade) })
  const plain = lowestBy(widths, (one) => misfitAt(one))
  const faded = fadedBy(misfitAt, widths, plain)
  const isFaded = misfitAt(faded.width_mm, faded.fade) < misfitAt(plain)
  const width_mm = isFaded ? faded.width_mm : plain
  const fade_mm = isFaded ? { fade_mm: faded.fade * deviationOf(width_mm) } : {}
  return { width_mm, scatter_mm: lengthScatter * width_mm, atFace: true, ...fade_mm }
}

/** Widths looked at at a face, as shares of the shortest −6 dB extent: a face narrows it. */
const LEAST_AT_FACE = 0.5
const MOST_AT_FACE = 2.2

const fadeOf = (width_mm: number, fade: number | undefined): Pick<Edge, 'deviation_mm'> =>
  fade === undefined ? {} : { deviation_mm: fade * deviationOf(width_mm) }

/** Fade and width, as a share of it, found in turn: after the first time each moves little, and is sought from where it was. */
function fadedBy(misfitAt: (width_mm: number, fade: number) => number, widths: readonly number[], first: number) {
  const fades = factors(LEAST_FADE, MOST_FADE, FADES)
  let width_mm = first
  let fade = lowestBy(fades, (one) => misfitAt(width_mm, one))
  width_mm = lowestFrom(widths, (one) => misfitAt(one, fade), first)
  for (let round = 1; round < ROUNDS; round++) {
    const [fadeWas, widthWas] = [fade, width_mm]
    fade = lowestFrom(fades, (one) => misfitAt(width_mm, one), fadeWas)
    width_mm = lowestFrom(widths, (one) => misfitAt(one, fade), widthWas)
    if (fade === fadeWas && width_mm === widthWas) break
  }
  return { width_mm, fade }
}

const factors = (least: number, most: number, count: number): readonly number[] =>
  Array.from({ length: count + 1 }, (_, i) => least * exp((log(most / least) * i) / count))

const lowestBy = (at: readonly number[], of: (value: number) => number): number => lowest(at, at.map(of))

/** The same downhill from where it is about. */
function lowestFrom(at: readonly number[], of: (value: number) => number, about: number): number {
  const values = new Float64Array(at.length).fill(Number.POSITIVE_INFINITY)
  const look = (i: number): number => {
    if (values[i] === Number.POSITIVE_INFINITY) values[i] = of(at[i]!)
    return values[i]!
  }
  let i = leastOf(at.map((one) => Math.abs(one - about)))
  for (;;) {
    const before = i > 0 ? look(i - 1) : Number.POSITIVE_INFINITY
    const after = i < at.length - 1 ? look(i + 1) : Number.POSITIVE_INFINITY
    if (!(Math.min(before, after) < look(i))) return lowestBeside(at, values, i)
    i += before < after ? -1 : 1
  }
}

/** How a flaw is seen that touches a face. */
type Fade = Pick<Edge, 'deviation_mm'> & { readonly touching_mm: number }

/** Shapes of notches agree with a bell, and with each other, to this share of their answers; and so low lie the tails of others. */
const LIKE = 0.03
const TAILS = 0.02

interface Energetic extends Seen {
  readonly energy: number
}

/** With sums of squares over the noise. */
const energetic = (notches: readonly Seen[], { noise }: Omit<Seeing, 'width_mm'>): readonly Energetic[] =>
  notches.map((one) => ({ ...one, energy: energyOf(one.rows, noise) }))

const energyOf = ({ x, y }: Rows, { xx, yy }: RowNoise): number =>
  x.reduce((sum, _, i) => sum + (x[i]! * x[i]!) / xx + (y[i]! * y[i]!) / yy, 0)

/**
 * Sum of misfits, each over what is expected of it: noise, the shape of the notch's own answer, and the tails of the
 * strongest beside it. So neither strong notches drown the others nor noise those that show the footprint.
 */
function misfitOf(notches: readonly Energetic[], seeing: Seeing, fade?: Fade): number {
  const most = Math.max(...notches.map(({ energy }) => energy))
  return notches.reduce((sum, { rows, length_mm, face, energy }) => {
    const edge = face === undefined || fade === undefined ? {} : { edge: { ...face, ...fade } }
    const expected = 2 * rows.z_mm.length + LIKE * LIKE * energy + TAILS * TAILS * most
    return sum + bestPlace(rows, { ...seeing, ...edge }, length_mm).misfit / expected
  }, 0)
}

function scatterOf(notches: readonly Seen[], seeing: Seeing, least: number): number {
  const long = notches.filter(({ length_mm }) => length_mm >= seeing.width_mm)
  if (long.length === 0) return least
  const squares = long.map(({ rows, length_mm }) => {
    const fits = anchored(within(rows, seeing.width_mm), seeing, lengthsFor(rows, seeing.width_mm))
    const { length_mm: lengths, misfit } = whole(fits)
    const off = lowest(lengths, misfit) - length_mm
    return off * off
  })
  return Math.max(least, Math.sqrt(squares.reduce((sum, one) => sum + one, 0) / long.length))
}
