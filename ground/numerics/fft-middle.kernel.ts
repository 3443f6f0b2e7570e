/**
 * The innermost passes of a filter by transforms, all at once on groups of 4 or 8 neighbors: the last forward stage, the
 * product with a spectrum, the first inverse stage. The spectrum of the signal is so never stored. `spectrum` is in
 * permuted order, re and im in turn: [re, im, re, im, …].
 */

interface Columns {
  readonly re: Float64Array
  readonly im: Float64Array
}

const ROOT_HALF = Math.sqrt(0.5)

/** Groups of four: place f of a group holds frequency f of it. */
export function filterByQuads(re: Float64Array, im: Float64Array, spectrum: Float64Array): void {
  const length = re.length
  for (let i = 0, k = 0; i < length; i += 4, k += 8) {
    const in0r = re[i]!
    const in1r = re[i + 1]!
    const in2r = re[i + 2]!
    const in3r = re[i + 3]!
    const in0i = im[i]!
    const in1i = im[i + 1]!
    const in2i = im[i + 2]!
    const in3i = im[i + 3]!
    const t0r = in0r + in2r
    const t0i = in0i + in2i
    const t1r = in0r - in2r
    const t1i = in0i - in2i
    const t2r = in1r + in3r
    const t2i = in1i + in3i
    const t3r = in1r - in3r
    const t3i = in1i - in3i
    const x0r = t0r + t2r
    const x0i = t0i + t2i
    const x2r = t0r - t2r
    const x2i = t0i - t2i
    const x1r = t1r + t3i
    const x1i = t1i - t3r
    const x3r = t1r - t3i
    const x3i = t1i + t3r
    const h0r = spectrum[k]!
    const h0i = spectrum[k + 1]!
    const h1r = spectrum[k + 2]!
    const h1i = spectrum[k + 3]!
    const h2r = spectrum[k + 4]!
    const h2i = spectrum[k + 5]!
    const h3r = spectrum[k + 6]!
    const h3i = spectrum[k + 7]!
    const ar = x0r * h0r - x0i * h0i
    const ai = x0r * h0i + x0i * h0r
    const cr = x2r * h2r - x2i * h2i
    const ci = x2r * h2i + x2i * h2r
    const br = x1r * h1r - x1i * h1i
    const bi = x1r * h1i + x1i * h1r
    const dr = x3r * h3r - x3i * h3i
    const di = x3r * h3i + x3i * h3r
    const s0r = ar + cr
    const s0i = ai + ci
    const s1r = ar - cr
    const s1i = ai - ci
    const s2r = br + dr
    const s2i = bi + di
    const s3r = br - dr
    const s3i = bi - di
    re[i] = s0r + s2r
    im[i] = s0i + s2i
    re[i + 1] = s1r - s3i
    im[i + 1] = s1i + s3r
    re[i + 2] = s0r - s2r
    im[i + 2] = s0i - s2i
    re[i + 3] = s1r + s3i
    im[i + 3] = s1i - s3r
  }
}

/** As `filterByQuads` with two spectra at once: what the second passes goes to columns of its own. */
export function filterTwiceByQuads(
  { re, im }: Columns,
  [spectrum, other]: readonly [Float64Array, Float64Array],
  { re: outRe, im: outIm }: Columns
): void {
  const length = re.length
  for (let i = 0, k = 0; i < length; i += 4, k += 8) {
    const in0r = re[i]!
    const in1r = re[i + 1]!
    const in2r = re[i + 2]!
    const in3r = re[i + 3]!
    const in0i = im[i]!
    const in1i = im[i + 1]!
    const in2i = im[i + 2]!
    const in3i = im[i + 3]!
    const t0r = in0r + in2r
    const t0i = in0i + in2i
    const t1r = in0r - in2r
    const t1i = in0i - in2i
    const t2r = in1r + in3r
    const t2i = in1i + in3i
    const t3r = in1r - in3r
    const t3i = in1i - in3i
    const x0r = t0r + t2r
    const x0i = t0i + t2i
    const x2r = t0r - t2r
    const x2i = t0i - t2i
    const x1r = t1r + t3i
    const x1i = t1i - t3r
    const x3r = t1r - t3i
    const x3i = t1i + t3r
    const par = x0r * spectrum[k]! - x0i * spectrum[k + 1]!
    const pai = x0r * spectrum[k + 1]! + x0i * spectrum[k]!
    const pcr = x2r * spectrum[k + 4]! - x2i * spectrum[k + 5]!
    const pci = x2r * spectrum[k + 5]! + x2i * spectrum[k + 4]!
    const pbr = x1r * spectrum[k + 2]! - x1i * spectrum[k + 3]!
    const pbi = x1r * spectrum[k + 3]! + x1i * spectrum[k + 2]!
    const pdr = x3r * spectrum[k + 6]! - x3i * spectrum[k + 7]!
    const pdi = x3r * spectrum[k + 7]! + x3i * spectrum[k + 6]!
    const p0r = par + pcr
    const p0i = pai + pci
    const p1r = par - pcr
    const p1i = pai - pci
    const p2r = pbr + pdr
    const p2i = pbi + pdi
    const p3r = pbr - pdr
    const p3i = pbi - pdi
    re[i] = p0r + p2r
    im[i] = p0i + p2i
    re[i + 1] = p1r - p3i
    im[i + 1] = p1i + p3r
    re[i + 2] = p0r - p2r
    im[i + 2] = p0i - p2i
    re[i + 3] = p1r + p3i
    im[i + 3] = p1i - p3r
    const qar = x0r * other[k]! - x0i * other[k + 1]!
    const qai = x0r * other[k + 1]! + x0i * other[k]!
    const qcr = x2r * other[k + 4]! - x2i * other[k + 5]!
    const qci = x2r * other[k + 5]! + x2i * other[k + 4]!
    const qbr = x1r * other[k + 2]! - x1i * other[k + 3]!
    const qbi = x1r * other[k + 3]! + x1i * other[k + 2]!
    const qdr = x3r * other[k + 6]! - x3i * other[k + 7]!
    const qdi = x3r * other[k + 7]! + x3i * other[k + 6]!
    const q0r = qar + qcr
    const q0i = qai + qci
    const q1r = qar - qcr
    const q1i = qai - qci
    const q2r = qbr + qdr
    const q2i = qbi + qdi
    const q3r = qbr - qdr
    const q3i = qbi - qdi
    outRe[i] = q0r + q2r
    outIm[i] = q0i + q2i
    outRe[i + 1] = q1r - q3i
    outIm[i + 1] = q1i + q3r
    outRe[i + 2] = q0r - q2r
    outIm[i + 2] = q0i - q2i
    outRe[i + 3] = q1r + q3i
    outIm[i + 3] = q1i - q3r
  }
}

/** Groups of eight: places 0 … 7 of a group hold frequencies 0, 4, 1, 5, 2, 6, 3, 7 of it. */
export function filterByEights(re: Float64Array, im: Float64Array, spectrum: Float64Array): void {
  const length = re.length
  for (let i = 0, k = 0; i < length; i += 8, k += 16) {
    const s0r = re[i]! + re[i + 4]!
    const s0i = im[i]! + im[i + 4]!
    const d0r = re[i]! - re[i + 4]!
    const d0i = im[i]! - im[i + 4]!
    const s2r = re[i + 2]! + re[i + 6]!
    const s2i = im[i + 2]! + im[i + 6]!
    const d2r = re[i + 2]! - re[i + 6]!
    const d2i = im[i + 2]! - im[i + 6]!
    const s1r = re[i + 1]! + re[i + 5]!
    const s1i = im[i + 1]! + im[i + 5]!
    const d1r = re[i + 1]! - re[i + 5]!
    const d1i = im[i + 1]! - im[i + 5]!
    const s3r = re[i + 3]! + re[i + 7]!
    const s3i = im[i + 3]! + im[i + 7]!
    const d3r = re[i + 3]! - re[i + 7]!
    const d3i = im[i + 3]! - im[i + 7]!
    const t0r = s0r + s2r
    const t0i = s0i + s2i
    const t1r = s0r - s2r
    const t1i = s0i - s2i
    const t2r = s1r + s3r
    const t2i = s1i + s3i
    const t3r = s1r - s3r
    const t3i = s1i - s3i
    const x0r = t0r + t2r
    const x0i = t0i + t2i
    const x4r = t0r - t2r
    const x4i = t0i - t2i
    const x2r = t1r + t3i
    const x2i = t1i - t3r
    const x6r = t1r - t3i
    const x6i = t1i + t3r
    const ar = x0r * spectrum[k]! - x0i * spectrum[k + 1]!
    const ai = x0r * spectrum[k + 1]! + x0i * spectrum[k]!
    const er = x4r * spectrum[k + 2]! - x4i * spectrum[k + 3]!
    const ei = x4r * spectrum[k + 3]! + x4i * spectrum[k + 2]!
    const cr = x2r * spectrum[k + 8]! - x2i * spectrum[k + 9]!
    const ci = x2r * spectrum[k + 9]! + x2i * spectrum[k + 8]!
    const gr = x6r * spectrum[k + 10]! - x6i * spectrum[k + 11]!
    const gi = x6r * spectrum[k + 11]! + x6i * spectrum[k + 10]!
    const a0r = ar + er
    const a0i = ai + ei
    const a2r = ar - er
    const a2i = ai - ei
    const a1r = cr + gr
    const a1i = ci + gi
    const a3r = cr - gr
    const a3i = ci - gi
    const z0r = a0r + a1r
    const z0i = a0i + a1i
    const z2r = a0r - a1r
    const z2i = a0i - a1i
    const z1r = a2r - a3i
    const z1i = a2i + a3r
    const z3r = a2r + a3i
    const z3i = a2i - a3r
    const u0r = d0r + d2i
    const u0i = d0i - d2r
    const u1r = d0r - d2i
    const u1i = d0i + d2r
    const pr = d1r + d3i
    const pi = d1i - d3r
    const mr = d1r - d3i
    const mi = d1i + d3r
    const v0r = (pr + pi) * ROOT_HALF
    const v0i = (pi - pr) * ROOT_HALF
    const v1r = (mi - mr) * ROOT_HALF
    const v1i = (mr + mi) * ROOT_HALF
    const x1r = u0r + v0r
    const x1i = u0i + v0i
    const x5r = u0r - v0r
    const x5i = u0i - v0i
    const x3r = u1r + v1r
    const x3i = u1i - v1i
    const x7r = u1r - v1r
    const x7i = u1i + v1i
    const br = x1r * spectrum[k + 4]! - x1i * spectrum[k + 5]!
    const bi = x1r * spectrum[k + 5]! + x1i * spectrum[k + 4]!
    const fr = x5r * spectrum[k + 6]! - x5i * spectrum[k + 7]!
    const fi = x5r * spectrum[k + 7]! + x5i * spectrum[k + 6]!
    const dr = x3r * spectrum[k + 12]! - x3i * spectrum[k + 13]!
    const di = x3r * spectrum[k + 13]! + x3i * spectrum[k + 12]!
    const jr = x7r * spectrum[k + 14]! - x7i * spectrum[k + 15]!
    const ji = x7r * spectrum[k + 15]! + x7i * spectrum[k + 14]!
    const b0r = br + fr
    const b0i = bi + fi
    const b2r = br - fr
    const b2i = bi - fi
    const b1r = dr + jr
    const b1i = di + ji
    const b3r = dr - jr
    const b3i = di - ji
    const q0r = b0r + b1r
    const q0i = b0i + b1i
    const q2r = b0i - b1i
    const q2i = b0r - b1r
    const q1r = b2r - b3i
    const q1i = b2i + b3r
    const q3r = b2r + b3i
    const q3i = b2i - b3r
    re[i] = z0r + q0r
    im[i] = z0i + q0i
    re[i + 4] = z0r - q0r
    im[i + 4] = z0i - q0i
    re[i + 2] = z2r - q2r
    im[i + 2] = z2i + q2i
    re[i + 6] = z2r + q2r
    im[i + 6] = z2i - q2i
    const w1r = (q1r - q1i) * ROOT_HALF
    const w1i = (q1r + q1i) * ROOT_HALF
    const w3r = (q3r + q3i) * ROOT_HALF
    const w3i = (q3r - q3i) * ROOT_HALF
    re[i + 1] = z1r + w1r
    im[i + 1] = z1i + w1i
    re[i + 5] = z1r - w1r
    im[i + 5] = z1i - w1i
    re[i + 3] = z3r - w3r
    im[i + 3] = z3i + w3i
    re[i + 7] = z3r + w3r
    im[i + 7] = z3i - w3i
  }
}
