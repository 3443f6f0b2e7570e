import { type SymmetricMatrix, solveSymmetric } from '@trueloop/ground/numerics'
import { isRefusal } from '@trueloop/ground/refusal'
import { bandedPulse, UNIT } from '../signal/index.ts'
import { type FittedRows, type NotchReading, type Standardization, shapeOf } from '../standardize/index.ts'

/**
 * Notches as each would answer alone on its revolutions. Two things stand in the sizes fitted on a reference scan: the band
 * takes the lowest cycles of a revolution out of every pulse, and what it takes lies around the whole revolution as a tail,
 * so that a small notch between large ones answers by up to a tenth of those more or less; and the named notch is fitted with
 * a shape that has its own noise in it.
 */

export type Shaped = Pick<Standardization, 'form' | 'band' | 'named' | 'notches'>

/** Below this correlation the named notch is no pulse of two lobes, and its tails are not known. */
const LEAST_LIKE = 0.9
/** The form reaches this many lobe spacings to each side of its middle. */
const SPACINGS = 1.25

/** The notches of a standardization with rows and amplitudes cleared; as they are where the named one is no such pulse. */
export function clearNotches({ form, band, named, notches }: Shaped): readonly NotchReading[] {
  const own = withoutOwnNoise(notches, named)
  if (band.unit !== 'cycles per revolution' || form.half < 1) return own
  const pulse = bandedPulse(band, form.half / SPACINGS)
  if (likeness(pulse, form) < LEAST_LIKE) return own
  return own.map((notch) => {
    const all = own.filter((other) => passesOver(other, notch))
    const inverse = inverseOf(couplings(all, pulse, form.half))
    return inverse === undefined ? notch : cleared(notch, { all, shares: inverse[all.indexOf(notch)]! })
  })
}

/** Whether the revolutions kept of one notch pass over the middle of another: what is not kept there is not known. */
function passesOver({ rows }: NotchReading, { rows: of, z_m }: NotchReading): boolean {
  if (rows === undefined || of === undefined) return rows === of
  return Math.min(...rows.z_m) <= z_m && z_m <= Math.max(...rows.z_m)
}

/** Correlation of the form's shape with a pulse around its middle, without regard to sign. */
function likeness(pulse: Float64Array, form: Shaped['form']): number {
  const shape = shapeOf(form)
  let [both, square] = [0, 0]
  for (let k = -form.half; k <= form.half; k++) {
    both += shape[k + form.half]! * at(pulse, k)
    square += at(pulse, k) * at(pulse, k)
  }
  return square > 0 ? Math.abs(both) / Math.sqrt(square) : 0
}

/** The pulse is centered in its unit, and goes around. */
const at = (pulse: Float64Array, k: number): number => pulse[(((k + UNIT / 2) % UNIT) + UNIT) % UNIT]!

/** What a fit at each notch sees of a pulse at each other one: 1 of itself. */
function couplings(notches: readonly NotchReading[], pulse: Float64Array, half: number): SymmetricMatrix {
  const size = notches.length
  const values = new Float64Array(size * size)
  const whole = seenOf(pulse, half, 0)
  for (let i = 0; i < size; i++) {
    for (let j = 0; j <= i; j++) {
      const apart = Math.round(((notches[i]!.angle_rad - notches[j]!.angle_rad) * UNIT) / TURN)
      const share = i === j ? 1 : seenOf(pulse, half, apart) / whole
      values[i * size + j] = share
      values[j * size + i] = share
    }
  }
  return { size, values }
}

const TURN = 6.283185307179586

function seenOf(pulse: Float64Array, half: number, apart: number): number {
  let sum = 0
  for (let k = -half; k <= half; k++) sum += at(pulse, k) * at(pulse, k + apart)
  return sum
}

/** Rows of the inverse; undefined where notches lie too close to be told apart. */
function inverseOf(matrix: SymmetricMatrix): readonly Float64Array[] | undefined {
  const columns = Array.from({ length: matrix.size }, (_, i) => {
    const one = new Float64Array(matrix.size)
    one[i] = 1
    return solveSymmetric(matrix, one)
  })
  const solved = columns.flatMap((column) => (isRefusal(column) ? [] : [column]))
  return solved.length === matrix.size ? solved : undefined
}

interface Among {
  readonly all: readonly NotchReading[]
  readonly shares: Float64Array
}

function cleared(notch: NotchReading, { all, shares }: Among): NotchReading {
  if (notch.rows === undefined) return notch
  const { z_m } = notch.rows
  const x = new Array<number>(z_m.length).fill(0)
  const y = new Array<number>(z_m.length).fill(0)
  for (const [j, { rows }] of all.entries()) {
    if (rows === undefined) continue
    for (const [k, z] of z_m.entries()) {
      x[k]! += shares[j]! * valueAt(rows.z_m, rows.x, z)
      y[k]! += shares[j]! * valueAt(rows.z_m, rows.y, z)
    }
  }
  return scaled(notch, { z_m, x, y })
}

/** With other rows, and peak-to-peak in proportion. */
function scaled(notch: NotchReading, rows: FittedRows): NotchReading {
  const [before, now] = [largest(notch.rows!), largest(rows)]
  return { ...notch, rows, amplitude: before > 0 ? (notch.amplitude * now) / before : notch.amplitude }
}

const largest = ({ x, y }: FittedRows): number =>
  x.reduce((most, value, i) => Math.max(most, Math.sqrt(value * value + y[i]! * y[i]!)), 0)

/** Linear between the rows; nothing beyond them. */
function valueAt(z: readonly number[], values: readonly number[], to: number): number {
  const last = z.length - 1
  if (last < 1) return 0
  const sense = z[last]! > z[0]! ? 1 : -1
  if ((to - z[0]!) * sense < 0 || (to - z[last]!) * sense > 0) return 0
  let i = 1
  while (i < last && (to - z[i]!) * sense > 0) i++
  const part = (to - z[i - 1]!) / (z[i]! - z[i - 1]!)
  return values[i - 1]! + part * (values[i]! - values[i - 1]!)
}

/** Peak-to-peak and fitted size of one notch agree to 5 % at best, and to so much of the named notch. */
const NEARLY = 0.05
const LEAST = 0.03

/**
 * The named notch's own rows hold its noise twice: what the other notches' fitted sizes are short of their peak-to-peak it is
 * short of too.
 */
function withoutOwnNoise(notches: readonly NotchReading[], named: string): readonly NotchReading[] {
  let [squares, both] = [0, 0]
  for (const { id, amplitude, rows } of notches) {
    if (id === named || rows === undefined) continue
    const weight = 1 / (LEAST * LEAST + NEARLY * NEARLY * amplitude * amplitude)
    squares += weight * amplitude * amplitude
    both += weight * amplitude * largest(rows)
  }
  const share = squares > 0 ? Math.min(1, both / squares) : 1
  const less = (values: readonly number[]) => values.map((value) => share * value)
  return notches.map((notch) => {
    if (notch.id !== named || notch.rows === undefined) return notch
    const { z_m, x, y } = notch.rows
    return { ...notch, rows: { z_m, x: less(x), y: less(y) } }
  })
}
