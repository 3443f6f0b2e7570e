/** Columns of samples, or of placed elements. */
interface Columns {
  readonly x: Float64Array
  readonly y: Float64Array
}

/** Elements that lie evenly among evenly spaced samples: element n `origin + n·stride` samples after sample `start`. */
export interface EvenElements {
  /** where the columns have the sample from which is counted: arithmetic does not see where they begin */
  readonly start: number
  readonly origin: number
  readonly stride: number
  /** distance between the spline's knots, samples; `LEAST_KNOT` or more */
  readonly knot: number
  /** the same in half strides where it is a whole number of them (then less is to be done), else 0 */
  readonly halves: number
  readonly from: number
  readonly to: number
}

/** With knots so far apart every element has samples under the middle of its spline. */
export const LEAST_KNOT = 0.75

/** So many samples more than 2 knots on either side of an element are read, with weight zero. */
export const EVEN_MARGIN = 4

/** Knots from the first to the last element of one batch: sums that ran farther would lose digits. */
const SPAN = 30

/**
 * Places evenly spaced samples on evenly spaced elements: the weighted means of `placeUneven` to rounding (some 1e-12 of
 * the largest value), at a cost that does not grow with the width of the spline.
 *
 * The spline is the fourth difference of the cubed distance. With knots k samples apart and F(c) = Σ x_j·|c − j|³/6 over
 * the samples j between a fixed sample and c, the weighted sum of an element at c is
 * F(c − 2k) − 4·F(c − k) + 6·F(c) − 4·F(c + k) + F(c + 2k), in which all weights have the sum
 * k⁴ − Δ⁴[f²·(1 − f)²]/24, f being the fraction of each of the five places (the formula of Euler and Maclaurin, which ends
 * there). Between two samples F is the cubic that has at both the value and the second derivative of F, and these are
 * repeated sums of the samples. They run outward from the middle of a batch, on the samples less the value there.
 *
 * @param columns samples; element number n of `elements` reads those within 2 knots + `EVEN_MARGIN` of it
 * @param out written at the elements' own numbers
 */
export function placeEven(columns: Columns, elements: EvenElements, out: Columns): void {
  const { start, origin, stride, knot, halves, to } = elements
  const most = Math.floor((SPAN * knot) / stride) + 1
  const size = Math.ceil((to - elements.from) / Math.ceil((to - elements.from) / most))
  for (let from = elements.from; from < to; from += size) {
    placeBatch(columns, { start, origin, stride, knot, halves, from, to: Math.min(to, from + size) }, out)
  }
}

/** For each sample of a batch F and its second derivative, of x and of y: four columns in one, so that they lie together. */
let sums = new Float64Array(8192)
/** At each place F of x, F of y, and [f·(1 − f)]²/36. */
let values = new Float64Array(4096)

function placeBatch(columns: Columns, elements: EvenElements, { x: outX, y: outY }: Columns): void {
  const { start, origin, stride, knot, from, to } = elements
  const first = Math.floor(origin + from * stride - 2 * knot) - 1
  const pairs = Math.ceil((Math.floor(origin + (to - 1) * stride + 2 * knot) + 2 - first) / 4)
  if (sums.length < 16 * pairs) sums = new Float64Array(32 * pairs)
  const sample = start + first
  const middle = 2 * pairs
  const baseX = columns.x[sample + middle]!
  const baseY = columns.y[sample + middle]!
  sumOutward(columns, sums, { sample, from: middle, sense: 1, pairs, baseX, baseY })
  sumOutward(columns, sums, { sample, from: middle - 1, sense: -1, pairs, baseX, baseY })
  const { perElement, perKnot } = valuesFor(elements, first)
  const v = values
  const whole = knot * knot * knot * knot
  for (let n = from, at = 0; n < to; n++, at = (at + perElement) & 0x3ffffff) {
    const b = (at + perKnot) & 0x3ffffff
    const c = (b + perKnot) & 0x3ffffff
    const d = (c + perKnot) & 0x3ffffff
    const e = (d + perKnot) & 0x3ffffff
    const weight = whole - 1.5 * (v[at + 2]! + v[e + 2]! - 4 * (v[b + 2]! + v[d + 2]!) + 6 * v[c + 2]!)
    outX[n] = baseX + (v[at]! + v[e]! - 4 * (v[b]! + v[d]!) + 6 * v[c]!) / weight
    outY[n] = baseY + (v[at + 1]! + v[e + 1]! - 4 * (v[b + 1]! + v[d + 1]!) + 6 * v[c + 1]!) / weight
  }
}

/**
 * F wherever the batch needs it, and how far apart in `values` two elements and two knots lie. Where a knot is a whole
 * number of half strides, the five places of all elements are on one lattice; else each of the five has a row.
 */
function valuesFor({ origin, stride, knot, halves, from, to }: EvenElements, first: number) {
  const count = to - from
  const place = origin + from * stride - first
  if (halves === 0) {
    roomFor(5 * count)
    for (let b = 0; b < 5; b++) evaluate({ place: place + (b - 2) * knot, spacing: stride, from: b * count, count })
    return { perElement: 3, perKnot: 3 * count }
  }
  const per = halves % 2 === 0 ? 1 : 2
  const perKnot = (halves * per) / 2
  const points = (count - 1) * per + 4 * perKnot + 1
  roomFor(points)
  evaluate({ place: place - 2 * knot, spacing: stride / per, from: 0, count: points })
  return { perElement: 3 * per, perKnot: 3 * perKnot }
}

function roomFor(places: number): void {
  if (values.length < 3 * places) values = new Float64Array(6 * places)
}

interface Places {
  readonly place: number
  readonly spacing: number
  readonly from: number
  readonly count: number
}

/** F at evenly spaced places. `& 0x3ffffff` tells the compiler that an index needs no check for overflow. */
function evaluate({ place, spacing, from, count }: Places): void {
  const s = sums
  const v = values
  let to = (3 * from) & 0x3ffffff
  for (let l = 0; l < count; l++) {
    const at = place + l * spacing
    const node = at & 0x3ffffff
    const f = at - node
    const g = 1 - f
    const h = g * g * (1 / 6)
    const k = f * f * (1 / 6)
    const e = node << 2
    v[to] = g * (s[e]! + h * s[e + 1]!) + f * (s[e + 4]! + k * s[e + 5]!)
    v[to + 1] = g * (s[e + 2]! + h * s[e + 3]!) + f * (s[e + 6]! + k * s[e + 7]!)
    v[to + 2] = h * k
    to = (to + 3) & 0x3ffffff
  }
}

interface Run {
  /** where the columns have the first sample of the batch */
  readonly sample: number
  readonly from: number
  readonly sense: 1 | -1
  readonly pairs: number
  readonly baseX: number
  readonly baseY: number
}

/**
 * Repeated sums from the place `from` of the batch on, forward or backward: r of the samples passed, p of their distances,
 * q and t of the second and third binomials of these (the cube of m is 6·C(m + 1, 3) + m). Two samples a round: what the
 * compiler asks of each array once a round is shared.
 */
function sumOutward({ x, y }: Columns, s: Float64Array, { sample, from, sense, pairs, baseX, baseY }: Run): void {
  let i = (sample + from) & 0x3ffffff
  let at = from & 0x3ffffff
  let rx = 0
  let px = 0
  let qx = 0
  let tx = 0
  let ry = 0
  let py = 0
  let qy = 0
  let ty = 0
  for (let k = 0; k < pairs; k++) {
    const a = at << 2
    s[a] = tx
    s[a + 1] = px
    s[a + 2] = ty
    s[a + 3] = py
    rx += x[i]! - baseX
    ry += y[i]! - baseY
    qx += px
    qy += py
    px += rx
    py += ry
    tx += qx
    ty += qy
    i = (i + sense) & 0x3ffffff
    at = (at + sense) & 0x3ffffff
    const b = at << 2
    s[b] = tx
    s[b + 1] = px
    s[b + 2] = ty
    s[b + 3] = py
    rx += x[i]! - baseX
    ry += y[i]! - baseY
    qx += px
    qy += py
    px += rx
    py += ry
    tx += qx
    ty += qy
    i = (i + sense) & 0x3ffffff
    at = (at + sense) & 0x3ffffff
  }
}

/** Effective number of evenly spaced samples that make the element at `place` (samples, a fraction meant): (Σw)²/Σw². */
export function evenWeight(place: number, knot: number): number {
  let sum = 0
  let square = 0
  for (let i = Math.ceil(place - 2 * knot); i <= place + 2 * knot; i++) {
    const u = Math.abs(i - place) / knot
    const v = Math.max(0, 2 - u)
    const w = u < 1 ? 4 + u * u * (3 * u - 6) : v * v * v
    sum += w
    square += w * w
  }
  return (sum * sum) / square
}
