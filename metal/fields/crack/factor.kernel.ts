import type { ComplexTable } from './dipole.kernel.ts'

/**
 * A complex symmetric matrix A = L L^T (not conjugated) as its lower triangle L, [row * size + column], with 1 / L on
 * the diagonal.
 */
export interface SymmetricFactor extends ComplexTable {
  readonly size: number
}

/**
 * Factors the lower triangle of A in place, two rows at a time. Without pivots: right where the real part of the matrix
 * is definite, as that of a crack is (its cells answer most to themselves, and a resistance takes energy).
 * source: golub-van-loan-2013 4.2, the row form of Cholesky
 */
export function factorSymmetric(a: SymmetricFactor): void {
  const { size } = a
  for (let i = 0; i < size; i += 2) {
    const first = i * size
    const second = i + 1 < size ? first + size : first
    reducePair(a, a, first, second, i)
    closeDiagonal(a, first, i, first)
    if (second === first) return
    entryBelow(a, second, first, i)
    closeDiagonal(a, second, i + 1, second)
  }
}

/** The entry of the second row of a pair under the diagonal of the first. */
function entryBelow({ re, im }: SymmetricFactor, row: number, above: number, column: number): void {
  let sRe = re[row + column]!
  let sIm = im[row + column]!
  for (let k = 0; k < column; k++) {
    sRe -= re[row + k]! * re[above + k]! - im[row + k]! * im[above + k]!
    sIm -= re[row + k]! * im[above + k]! + im[row + k]! * re[above + k]!
  }
  const dRe = re[above + column]!
  const dIm = im[above + column]!
  re[row + column] = sRe * dRe - sIm * dIm
  im[row + column] = sRe * dIm + sIm * dRe
}

/** 1 / sqrt(A_ii - sum of squares), the root with the positive real part. */
function closeDiagonal({ re, im }: SymmetricFactor, row: number, column: number, at: number): void {
  let sRe = re[at + column]!
  let sIm = im[at + column]!
  for (let k = 0; k < column; k++) {
    sRe -= re[row + k]! * re[row + k]! - im[row + k]! * im[row + k]!
    sIm -= 2 * re[row + k]! * im[row + k]!
  }
  const size = Math.sqrt(sRe * sRe + sIm * sIm)
  const rootRe = Math.sqrt(0.5 * (size + sRe))
  const rootIm = (0.5 * sIm) / rootRe
  re[at + column] = rootRe / size
  im[at + column] = -rootIm / size
}

/**
 * Solves L y = x forward for two rows of x at once, the first `end` of their values, in place: both right sides and the
 * rows of the matrix itself are reduced so. Two rows by two columns: each value read is used twice.
 */
export function reducePair(l: SymmetricFactor, x: ComplexTable, first: number, second: number, end: number): void {
  const { size, re: lRe, im: lIm } = l
  const { re, im } = x
  let j = 0
  for (; j + 1 < end; j += 2) {
    const a = j * size
    const b = a + size
    let r00 = re[first + j]!
    let i00 = im[first + j]!
    let r01 = re[first + j + 1]!
    let i01 = im[first + j + 1]!
    let r10 = re[second + j]!
    let i10 = im[second + j]!
    let r11 = re[second + j + 1]!
    let i11 = im[second + j + 1]!
    for (let k = 0; k < j; k++) {
      const aRe = lRe[a + k]!
      const aIm = lIm[a + k]!
      const bRe = lRe[b + k]!
      const bIm = lIm[b + k]!
      const xRe = re[first + k]!
      const xIm = im[first + k]!
      const yRe = re[second + k]!
      const yIm = im[second + k]!
      r00 -= aRe * xRe - aIm * xIm
      i00 -= aRe * xIm + aIm * xRe
      r01 -= bRe * xRe - bIm * xIm
      i01 -= bRe * xIm + bIm * xRe
      r10 -= aRe * yRe - aIm * yIm
      i10 -= aRe * yIm + aIm * yRe
      r11 -= bRe * yRe - bIm * yIm
      i11 -= bRe * yIm + bIm * yRe
    }
    const dRe = lRe[a + j]!
    const dIm = lIm[a + j]!
    const eRe = lRe[b + j + 1]!
    const eIm = lIm[b + j + 1]!
    const cRe = lRe[b + j]!
    const cIm = lIm[b + j]!
    const x0Re = r00 * dRe - i00 * dIm
    const x0Im = r00 * dIm + i00 * dRe
    const y0Re = r10 * dRe - i10 * dIm
    const y0Im = r10 * dIm + i10 * dRe
    r01 -= cRe * x0Re - cIm * x0Im
    i01 -= cRe * x0Im + cIm * x0Re
    r11 -= cRe * y0Re - cIm * y0Im
    i11 -= cRe * y0Im + cIm * y0Re
    re[first + j] = x0Re
    im[first + j] = x0Im
    re[second + j] = y0Re
    im[second + j] = y0Im
    re[first + j + 1] = r01 * eRe - i01 * eIm
    im[first + j + 1] = r01 * eIm + i01 * eRe
    re[second + j + 1] = r11 * eRe - i11 * eIm
    im[second + j + 1] = r11 * eIm + i11 * eRe
  }
  if (j === end) return
  // An odd number of columns leaves one.
  const a = j * size
  let r0 = re[first + j]!
  let i0 = im[first + j]!
  let r1 = re[second + j]!
  let i1 = im[second + j]!
  for (let k = 0; k < j; k++) {
    r0 -= lRe[a + k]! * re[first + k]! - lIm[a + k]! * im[first + k]!
    i0 -= lRe[a + k]! * im[first + k]! + lIm[a + k]! * re[first + k]!
    r1 -= lRe[a + k]! * re[second + k]! - lIm[a + k]! * im[second + k]!
    i1 -= lRe[a + k]! * im[second + k]! + lIm[a + k]! * re[second + k]!
  }
  re[first + j] = r0 * lRe[a + j]! - i0 * lIm[a + j]!
  im[first + j] = r0 * lIm[a + j]! + i0 * lRe[a + j]!
  re[second + j] = r1 * lRe[a + j]! - i1 * lIm[a + j]!
  im[second + j] = r1 * lIm[a + j]! + i1 * lRe[a + j]!
}

/** Solves L^T x = y backward for two different rows of x at once, in place. */
export function expandPair(l: SymmetricFactor, x: ComplexTable, first: number, second: number): void {
  const { size, re: lRe, im: lIm } = l
  const { re, im } = x
  for (let i = size - 1; i >= 0; i--) {
    const a = i * size
    const dRe = lRe[a + i]!
    const dIm = lIm[a + i]!
    const pRe = re[first + i]! * dRe - im[first + i]! * dIm
    const pIm = re[first + i]! * dIm + im[first + i]! * dRe
    const qRe = re[second + i]! * dRe - im[second + i]! * dIm
    const qIm = re[second + i]! * dIm + im[second + i]! * dRe
    re[first + i] = pRe
    im[first + i] = pIm
    re[second + i] = qRe
    im[second + i] = qIm
    for (let k = 0; k < i; k++) {
      const aRe = lRe[a + k]!
      const aIm = lIm[a + k]!
      re[first + k]! -= aRe * pRe - aIm * pIm
      im[first + k]! -= aRe * pIm + aIm * pRe
      re[second + k]! -= aRe * qRe - aIm * qIm
      im[second + k]! -= aRe * qIm + aIm * qRe
    }
  }
}
