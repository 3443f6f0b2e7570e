import { exp, log, median, planFft } from '@trueloop/ground/numerics'
import type { Examination, Picture } from './examination.ts'

/**
 * What is fixed on the wall of a hole, from the picture of one scan: Fourier coefficients of each row around the hole,
 * `[row · WAVES + wave]`. What runs around with few waves is left out (faces, joints and oval holes bring it into every
 * hole of a job), and so is what is finer than the probe sees. A root keeps single strong places from speaking for the
 * whole wall, and no row counts for more than the middle one. The whole has energy 1.
 */
export interface WallPrint {
  readonly re: Float64Array
  readonly im: Float64Array
}

const ROWS = 32
const COLUMNS = 128
const FEWEST_WAVES = 4
const WAVES = 37
const fft = planFft(COLUMNS)

/** Share of the depth at either face that is left out: a face that is not square answers alike in every hole. */
const FACE_SHARE = 0.15

/** How far two scans of one hole may differ in depth, in rows. */
const ROW_SHIFTS = [-1, 0, 1]

/** undefined where the picture has no wall between two known faces, or nothing on it. */
export function wallPrintOf({
  picture,
  position: { entry, exit }
}: Pick<Examination, 'picture' | 'position'>): WallPrint | undefined {
  if (picture === undefined || entry === undefined || exit === undefined || picture.columns !== COLUMNS)
    return undefined
  const print = { re: new Float64Array(ROWS * WAVES), im: new Float64Array(ROWS * WAVES) }
  const energies = new Float64Array(ROWS)
  for (let row = 0; row < ROWS; row++) {
    const depth = FACE_SHARE + ((1 - 2 * FACE_SHARE) * (row + 0.5)) / ROWS
    const values = rowAt(picture, entry + (exit - entry) * depth)
    if (values === undefined) return undefined
    energies[row] = keepWaves(values, print, row * WAVES)
  }
  return weighed(print, energies)
}

/** Roots of the sizes at a place of the ruler, between the two rows beside it. */
function rowAt({ rows, rowFrom, rowStep, values }: Picture, revolution: number): Float64Array | undefined {
  const at = (revolution - rowFrom) / rowStep - 0.5
  const low = Math.max(0, Math.floor(at))
  const high = Math.min(rows - 1, low + 1)
  if (low >= rows) return undefined
  const share = Math.min(1, Math.max(0, at - low))
  return Float64Array.from({ length: COLUMNS }, (_, k) => {
    const [a, b] = [values[low * COLUMNS + k]!, values[high * COLUMNS + k]!]
    return (1 - share) * Math.sqrt(a) + share * Math.sqrt(b)
  })
}

/** Keeps the waves that count; gives back their energy, both senses together. */
function keepWaves(values: Float64Array, { re, im }: WallPrint, at: number): number {
  const other = new Float64Array(COLUMNS)
  fft.forward(values, other)
  let energy = 0
  for (let k = 0; k < WAVES; k++) {
    const [x, y] = [values[FEWEST_WAVES + k]!, other[FEWEST_WAVES + k]!]
    re[at + k] = x
    im[at + k] = y
    energy += 2 * (x * x + y * y)
  }
  return energy
}

function weighed({ re, im }: WallPrint, energies: Float64Array): WallPrint | undefined {
  const middle = median(energies)
  if (middle === 0) return undefined
  const total = energies.reduce((sum, energy) => sum + Math.min(energy, middle), 0)
  for (const [row, energy] of energies.entries()) {
    const scale = Math.sqrt(Math.min(1, middle / energy) / total)
    for (let k = row * WAVES; k < (row + 1) * WAVES; k++) {
      re[k] = re[k]! * scale
      im[k] = im[k]! * scale
    }
  }
  return { re, im }
}

/**
 * How far two scans agree: the largest correlation of their prints over all turns of one against the other and small
 * shifts in depth; 1 for one and the same. By the correlation theorem, one transform a shift.
 */
export const agreementOf = (one: WallPrint, other: WallPrint): number =>
  Math.max(...ROW_SHIFTS.map((shift) => largestAt(one, other, shift)))

function largestAt(one: WallPrint, other: WallPrint, shift: number): number {
  const re = new Float64Array(COLUMNS)
  const im = new Float64Array(COLUMNS)
  for (let row = Math.max(0, -shift); row < Math.min(ROWS, ROWS - shift); row++) {
    const [a, b] = [row * WAVES, (row + shift) * WAVES]
    for (let k = 0; k < WAVES; k++) {
      const [ar, ai, br, bi] = [one.re[a + k]!, one.im[a + k]!, other.re[b + k]!, other.im[b + k]!]
      re[FEWEST_WAVES + k] = re[FEWEST_WAVES + k]! + ar * br + ai * bi
      im[FEWEST_WAVES + k] = im[FEWEST_WAVES + k]! + ai * br - ar * bi
    }
  }
  fft.inverse(re, im)
  return 2 * COLUMNS * re.reduce((most, value) => Math.max(most, value), -1)
}

/** A scan whose wall can be compared. */
export interface PrintedScan {
  readonly subject: string
  readonly file: string
  readonly print: WallPrint
}

/** Two scans of different holes that agree as only scans of one hole do. */
export interface Alike {
  readonly one: PrintedScan
  readonly other: PrintedScan
  readonly agreement: number
  /** from what agreement on they are told */
  readonly limit: number
}

/** Up to so many scans, all pairs are compared; of more, each with so many before it: a hole is scanned twice at short distance. */
const ALL_PAIRS = 300
const BEFORE = 8

/** From fewer pairs nobody can tell what is usual. */
const FEWEST_PAIRS = 10

/** So that pairs that all agree alike do not stand out from each other; a tenth of what generated holes show. */
const LEAST_DEVIATION = 0.002

/**
 * By how many deviations an agreement stands out. Chosen on generated holes (`likeness.test.ts`): of 660 pairs of
 * different holes none reached 5. Where scans of one and the same hole in the job agree less, they set the limit.
 */
const DEVIATIONS = 6
const DEVIATIONS_BESIDE_KNOWN = 5

/**
 * Holes that may be one and the same, scanned twice under two names. Never a verdict: a person looks. Agreements are
 * compared as Fisher's z with median and median absolute deviation of all pairs of different holes.
 */
export function alikeScans(scans: readonly PrintedScan[]): readonly Alike[] {
  const pairs = pairsOf(scans)
  const others = pairs.filter(({ one, other }) => one.subject !== other.subject)
  if (others.length < FEWEST_PAIRS) return []
  const known = pairs.filter(({ one, other }) => one.subject === other.subject).map(({ z }) => z)
  const middle = median(Float64Array.from(others, ({ z }) => z))
  const deviation = LEAST_DEVIATION + 1.4826 * median(Float64Array.from(others, ({ z }) => Math.abs(z - middle)))
  // known scans of one hole may agree better than these two do, and need not: they lower the limit, and never raise it
  const least = Math.min(middle + DEVIATIONS * deviation, ...known)
  const limit = Math.max(least, middle + DEVIATIONS_BESIDE_KNOWN * deviation)
  return others
    .filter(({ z }) => z >= limit)
    .map(({ one, other, agreement }) => ({ one, other, agreement, limit: correlation(limit) }))
}

interface Pair extends Pick<Alike, 'one' | 'other' | 'agreement'> {
  readonly z: number
}

function pairsOf(scans: readonly PrintedScan[]): readonly Pair[] {
  const reach = scans.length <= ALL_PAIRS ? scans.length : BEFORE
  return scans.flatMap((other, at) =>
    scans.slice(Math.max(0, at - reach), at).map((one) => {
      const agreement = agreementOf(one.print, other.print)
      return { one, other, agreement, z: fisher(agreement) }
    })
  )
}

/** Fisher (1915): ½ ln((1 + r)/(1 − r)) spreads alike wherever r lies. */
const fisher = (r: number): number => {
  const bounded = Math.min(r, 0.999_999)
  return 0.5 * log((1 + bounded) / (1 - bounded))
}

const correlation = (z: number): number => {
  const e = exp(2 * z)
  return (e - 1) / (e + 1)
}
