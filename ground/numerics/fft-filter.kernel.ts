/**
 * The passes of a filter by transforms that never reorders: forward by decimation in frequency (natural order in,
 * permuted out) in stages of four, inverse by decimation in time (permuted in, natural out). Twiddles of 1 are left
 * out. A stage of one block has a loop of its own, and values are loaded before any is stored: measured, a fifth
 * faster. The order of operations depends on the length alone. source: gentleman-sande-1966
 */

/**
 * One stage of four over blocks of `size` points. Records that begin with the same keys share a hidden class: this one begins
 * with a key of its own, so that no other makes its size a fraction.
 */
export interface Stage {
  readonly size: number
  /** For each j from 1 to size/4 - 1: cos and -sin of 2 pi m j / size, m = 1, 2, 3. */
  readonly twiddles: Float64Array
}

/** Splits each block of `size` into four of size/4: block m then holds the frequencies that are m modulo 4. */
export function splitKernel(stage: Stage, re: Float64Array, im: Float64Array): void {
  quadKernel(stage.size, re, im)
  if (stage.size === re.length) splitWhole(stage, re, im)
  else splitBlocks(stage, re, im)
}

/** Undoes `splitKernel`, four times too large. */
export function joinKernel(stage: Stage, re: Float64Array, im: Float64Array): void {
  quadKernel(stage.size, im, re)
  if (stage.size === re.length) joinWhole(stage, re, im)
  else joinBlocks(stage, re, im)
}

/** The first point of each quarter, whose twiddles are 1; with the columns swapped the inverse. */
function quadKernel(size: number, re: Float64Array, im: Float64Array): void {
  const length = re.length
  const q = size >> 2
  for (let a = 0; a < length; a = (a + size) | 0) {
    const b = (a + q) | 0
    const c = (b + q) | 0
    const d = (c + q) | 0
    const ar = re[a]!
    const br = re[b]!
    const cr = re[c]!
    const dr = re[d]!
    const ai = im[a]!
    const bi = im[b]!
    const ci = im[c]!
    const di = im[d]!
    const t0r = ar + cr
    const t0i = ai + ci
    const t1r = ar - cr
    const t1i = ai - ci
    const t2r = br + dr
    const t2i = bi + di
    const t3r = br - dr
    const t3i = bi - di
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

function splitBlocks({ size, twiddles }: Stage, re: Float64Array, im: Float64Array): void {
  const length = re.length
  const q = size >> 2
  for (let j = 1, t = 0; j < q; j++, t += 6) {
    const w1r = twiddles[t]!
    const w1i = twiddles[t + 1]!
    const w2r = twiddles[t + 2]!
    const w2i = twiddles[t + 3]!
    const w3r = twiddles[t + 4]!
    const w3i = twiddles[t + 5]!
    for (let a = j; a < length; a = (a + size) | 0) {
      const b = (a + q) | 0
      const c = (b + q) | 0
      const d = (c + q) | 0
      const ar = re[a]!
      const br = re[b]!
      const cr = re[c]!
      const dr = re[d]!
      const ai = im[a]!
      const bi = im[b]!
      const ci = im[c]!
      const di = im[d]!
      const t0r = ar + cr
      const t0i = ai + ci
      const t1r = ar - cr
      const t1i = ai - ci
      const t2r = br + dr
      const t2i = bi + di
      const t3r = br - dr
      const t3i = bi - di
      const y1r = t1r + t3i
      const y1i = t1i - t3r
      const y2r = t0r - t2r
      const y2i = t0i - t2i
      const y3r = t1r - t3i
      const y3i = t1i + t3r
      re[a] = t0r + t2r
      im[a] = t0i + t2i
      re[b] = y1r * w1r - y1i * w1i
      im[b] = y1r * w1i + y1i * w1r
      re[c] = y2r * w2r - y2i * w2i
      im[c] = y2r * w2i + y2i * w2r
      re[d] = y3r * w3r - y3i * w3i
      im[d] = y3r * w3i + y3i * w3r
    }
  }
}

function splitWhole({ size, twiddles }: Stage, re: Float64Array, im: Float64Array): void {
  const q = size >> 2
  for (let a = 1, t = 0; a < q; a++, t += 6) {
    const w1r = twiddles[t]!
    const w1i = twiddles[t + 1]!
    const w2r = twiddles[t + 2]!
    const w2i = twiddles[t + 3]!
    const w3r = twiddles[t + 4]!
    const w3i = twiddles[t + 5]!
    const b = (a + q) | 0
    const c = (b + q) | 0
    const d = (c + q) | 0
    const ar = re[a]!
    const br = re[b]!
    const cr = re[c]!
    const dr = re[d]!
    const ai = im[a]!
    const bi = im[b]!
    const ci = im[c]!
    const di = im[d]!
    const t0r = ar + cr
    const t0i = ai + ci
    const t1r = ar - cr
    const t1i = ai - ci
    const t2r = br + dr
    const t2i = bi + di
    const t3r = br - dr
    const t3i = bi - di
    const y1r = t1r + t3i
    const y1i = t1i - t3r
    const y2r = t0r - t2r
    const y2i = t0i - t2i
    const y3r = t1r - t3i
    const y3i = t1i + t3r
    re[a] = t0r + t2r
    im[a] = t0i + t2i
    re[b] = y1r * w1r - y1i * w1i
    im[b] = y1r * w1i + y1i * w1r
    re[c] = y2r * w2r - y2i * w2i
    im[c] = y2r * w2i + y2i * w2r
    re[d] = y3r * w3r - y3i * w3i
    im[d] = y3r * w3i + y3i * w3r
  }
}

function joinBlocks({ size, twiddles }: Stage, re: Float64Array, im: Float64Array): void {
  const length = re.length
  const q = size >> 2
  for (let j = 1, t = 0; j < q; j++, t += 6) {
    const w1r = twiddles[t]!
    const w1i = twiddles[t + 1]!
    const w2r = twiddles[t + 2]!
    const w2i = twiddles[t + 3]!
    const w3r = twiddles[t + 4]!
    const w3i = twiddles[t + 5]!
    for (let a = j; a < length; a = (a + size) | 0) {
      const b = (a + q) | 0
      const c = (b + q) | 0
      const d = (c + q) | 0
      const xbr = re[b]!
      const xbi = im[b]!
      const xcr = re[c]!
      const xci = im[c]!
      const xdr = re[d]!
      const xdi = im[d]!
      const ar = re[a]!
      const ai = im[a]!
      const br = xbr * w1r + xbi * w1i
      const bi = xbi * w1r - xbr * w1i
      const cr = xcr * w2r + xci * w2i
      const ci = xci * w2r - xcr * w2i
      const dr = xdr * w3r + xdi * w3i
      const di = xdi * w3r - xdr * w3i
      const t0r = ar + cr
      const t0i = ai + ci
      const t1r = ar - cr
      const t1i = ai - ci
      const t2r = br + dr
      const t2i = bi + di
      const t3r = br - dr
      const t3i = bi - di
      re[a] = t0r + t2r
      im[a] = t0i + t2i
      re[b] = t1r - t3i
      im[b] = t1i + t3r
      re[c] = t0r - t2r
      im[c] = t0i - t2i
      re[d] = t1r + t3i
      im[d] = t1i - t3r
    }
  }
}

function joinWhole({ size, twiddles }: Stage, re: Float64Array, im: Float64Array): void {
  const q = size >> 2
  for (let a = 1, t = 0; a < q; a++, t += 6) {
    const w1r = twiddles[t]!
    const w1i = twiddles[t + 1]!
    const w2r = twiddles[t + 2]!
    const w2i = twiddles[t + 3]!
    const w3r = twiddles[t + 4]!
    const w3i = twiddles[t + 5]!
    const b = (a + q) | 0
    const c = (b + q) | 0
    const d = (c + q) | 0
    const xbr = re[b]!
    const xbi = im[b]!
    const xcr = re[c]!
    const xci = im[c]!
    const xdr = re[d]!
    const xdi = im[d]!
    const ar = re[a]!
    const ai = im[a]!
    const br = xbr * w1r + xbi * w1i
    const bi = xbi * w1r - xbr * w1i
    const cr = xcr * w2r + xci * w2i
    const ci = xci * w2r - xcr * w2i
    const dr = xdr * w3r + xdi * w3i
    const di = xdi * w3r - xdr * w3i
    const t0r = ar + cr
    const t0i = ai + ci
    const t1r = ar - cr
    const t1i = ai - ci
    const t2r = br + dr
    const t2i = bi + di
    const t3r = br - dr
    const t3i = bi - di
    re[a] = t0r + t2r
    im[a] = t0i + t2i
    re[b] = t1r - t3i
    im[b] = t1i + t3r
    re[c] = t0r - t2r
    im[c] = t0i - t2i
    re[d] = t1r + t3i
    im[d] = t1i - t3r
  }
}

/** Sum and difference of each pair of neighbors: forward, and inverse twice too large. */
export function pairsKernel(re: Float64Array, im: Float64Array): void {
  const length = re.length
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
