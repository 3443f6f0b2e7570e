/**
 * Complex discrete Fourier transform in place, decimation in time: bit-reversed order, one radix-2 stage where the
 * logarithm of the length is odd, then radix-4 stages. The order of operations depends on the length alone.
 * source: cooley-tukey-1965
 */

export interface FftTables {
  readonly length: number
  /** Pairs of indices to swap, first < second: [first, second, first, second, …]. */
  readonly swaps: Uint32Array
  /** Stage after stage, for each butterfly: cos and sin of w^j, w^2j, w^3j. */
  readonly twiddles: Float64Array
  /** True where a radix-2 stage comes first. */
  readonly odd: boolean
}

export function fftKernel(tables: FftTables, re: Float64Array, im: Float64Array): void {
  const { length, swaps, twiddles, odd } = tables
  for (let s = 0; s < swaps.length; s += 2) {
    const i = swaps[s]!
    const k = swaps[s + 1]!
    const r = re[i]!
    re[i] = re[k]!
    re[k] = r
    const m = im[i]!
    im[i] = im[k]!
    im[k] = m
  }
  if (odd) pairStage(length, re, im)
  else if (length >= 4) quadStage(length, re, im)
  let start = 0
  for (let quarter = odd ? 2 : 4; quarter < length; quarter *= 4) {
    if (quarter <= 16) stageByPoint({ quarter, twiddles, start }, re, im)
    else stageByBlock({ quarter, twiddles, start }, re, im)
    start += 6 * quarter
  }
}

function pairStage(length: number, re: Float64Array, im: Float64Array): void {
  for (let i = 0; i < length; i += 2) {
    const ar = re[i]!
    const ai = im[i]!
    const br = re[i + 1]!
    const bi = im[i + 1]!
    re[i] = ar + br
    im[i] = ai + bi
    re[i + 1] = ar - br
    im[i + 1] = ai - bi
  }
}

function quadStage(length: number, re: Float64Array, im: Float64Array): void {
  for (let i = 0; i < length; i += 4) {
    const t0r = re[i]! + re[i + 1]!
    const t0i = im[i]! + im[i + 1]!
    const t1r = re[i]! - re[i + 1]!
    const t1i = im[i]! - im[i + 1]!
    const t2r = re[i + 2]! + re[i + 3]!
    const t2i = im[i + 2]! + im[i + 3]!
    const t3r = re[i + 2]! - re[i + 3]!
    const t3i = im[i + 2]! - im[i + 3]!
    re[i] = t0r + t2r
    im[i] = t0i + t2i
    re[i + 1] = t1r + t3i
    im[i + 1] = t1i - t3r
    re[i + 2] = t0r - t2r
    im[i + 2] = t0i - t2i
    re[i + 3] = t1r - t3i
    im[i + 3] = t1i + t3r
  }
}

interface Radix4Stage {
  readonly quarter: number
  readonly twiddles: Float64Array
  /** Where its twiddles begin. */
  readonly start: number
}

/** Short blocks: each twiddle is read once, for all blocks. The sums are those of `stageByBlock`. */
function stageByPoint({ quarter, twiddles: w, start }: Radix4Stage, re: Float64Array, im: Float64Array): void {
  const length = re.length
  const step = 4 * quarter
  for (let j = 0, t = start; j < quarter; j++, t += 6) {
    const w1r = w[t]!
    const w1i = w[t + 1]!
    const w2r = w[t + 2]!
    const w2i = w[t + 3]!
    const w3r = w[t + 4]!
    const w3i = w[t + 5]!
    for (let a = j; a < length; a = (a + step) | 0) {
      const b = (a + quarter) | 0
      const c = (b + quarter) | 0
      const d = (c + quarter) | 0
      const ar = re[a]!
      const ai = im[a]!
      const xbr = re[b]!
      const xbi = im[b]!
      const xcr = re[c]!
      const xci = im[c]!
      const xdr = re[d]!
      const xdi = im[d]!
      const br = xbr * w2r - xbi * w2i
      const bi = xbr * w2i + xbi * w2r
      const cr = xcr * w1r - xci * w1i
      const ci = xcr * w1i + xci * w1r
      const dr = xdr * w3r - xdi * w3i
      const di = xdr * w3i + xdi * w3r
      const t0r = ar + br
      const t0i = ai + bi
      const t1r = ar - br
      const t1i = ai - bi
      const t2r = cr + dr
      const t2i = ci + di
      const t3r = cr - dr
      const t3i = ci - di
      re[a] = t0r + t2r
      im[a] = t0i + t2i
      re[b] = t1r + t3i
      im[b] = t1i - t3r
      re[c] = t0r - t2r
      im[c] = t0i - t2i
      re[d] = t1r - t3i
      im[d] = t1i + t3r
    }
  }
}

function stageByBlock({ quarter, twiddles: w, start }: Radix4Stage, re: Float64Array, im: Float64Array): void {
  const length = re.length
  const step = 4 * quarter
  for (let block = 0; block < length; block += step) {
    const end = block + quarter
    for (let a = block, t = start; a < end; a = (a + 1) | 0, t += 6) {
      const b = (a + quarter) | 0
      const c = (b + quarter) | 0
      const d = (c + quarter) | 0
      const ar = re[a]!
      const ai = im[a]!
      const xbr = re[b]!
      const xbi = im[b]!
      const xcr = re[c]!
      const xci = im[c]!
      const xdr = re[d]!
      const xdi = im[d]!
      const w1r = w[t]!
      const w1i = w[t + 1]!
      const w2r = w[t + 2]!
      const w2i = w[t + 3]!
      const w3r = w[t + 4]!
      const w3i = w[t + 5]!
      const br = xbr * w2r - xbi * w2i
      const bi = xbr * w2i + xbi * w2r
      const cr = xcr * w1r - xci * w1i
      const ci = xcr * w1i + xci * w1r
      const dr = xdr * w3r - xdi * w3i
      const di = xdr * w3i + xdi * w3r
      const t0r = ar + br
      const t0i = ai + bi
      const t1r = ar - br
      const t1i = ai - bi
      const t2r = cr + dr
      const t2i = ci + di
      const t3r = cr - dr
      const t3i = ci - di
      re[a] = t0r + t2r
      im[a] = t0i + t2i
      re[b] = t1r + t3i
      im[b] = t1i - t3r
      re[c] = t0r - t2r
      im[c] = t0i - t2i
      re[d] = t1r - t3i
      im[d] = t1i + t3r
    }
  }
}
