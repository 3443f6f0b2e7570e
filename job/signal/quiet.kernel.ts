/** Elements [from, to) of the columns, and how far apart the neighbors are that a sample is measured against. */
export interface Window {
  readonly from: number
  readonly to: number
  readonly reach: number
}

/** What `lookOver` is told and what it learns; one record, used over and over. */
export interface Look {
  /** extremes met before */
  highX: number
  lowX: number
  highY: number
  lowY: number
  /** squares below this are counted */
  guess: number
  below: number
  /** largest square */
  most: number
  /** every sample of the window is a finite number */
  readable: boolean
  /** a sample that has both neighbors may stand at or beyond one of the extremes: in doubt, true */
  reached: boolean
}

/** Half of the range met is narrowed by this share, so that no rounding hides a sample that stands at its end. */
const WITHIN = 1 - 1e-12

/**
 * One pass over samples in which, as a rule, nothing is wrong. The square is that of twice the measure of `markSpikes`: of
 * a sample's distance from the sum of its two neighbors `reach` away.
 *
 * The samples of one remainder by `reach` are gone through after each other, so that each is read once; three a round, in
 * which a, b and c take turns in being the middle, and what the compiler asks of each array once a round is shared.
 * `& 0x3ffffff` spares it a check for overflow, a comparison that is counted as a number spares the processor a guess,
 * and `Math.max` keeps what is no number.
 */
export function lookOver(x: Float64Array, y: Float64Array, { from, to, reach }: Window, look: Look): void {
  const { guess } = look
  const middleX = 0.5 * (look.highX + look.lowX)
  const middleY = 0.5 * (look.highY + look.lowY)
  const awayX = (look.highX - middleX) * WITHIN
  const awayY = (look.highY - middleY) * WITHIN
  let below = 0
  let most = 0
  let reached = false
  for (let k = 0; k < reach; k++) {
    let i = (from + k) & 0x3ffffff
    let ax = x[i]!
    let ay = y[i]!
    i = (i + reach) & 0x3ffffff
    let bx = x[i]!
    let by = y[i]!
    let cx = 0
    let cy = 0
    i = (i + reach) & 0x3ffffff
    while (i < to) {
      cx = x[i]!
      cy = y[i]!
      const dx1 = bx + bx - (ax + cx)
      const dy1 = by + by - (ay + cy)
      const square1 = dx1 * dx1 + dy1 * dy1
      most = Math.max(most, square1)
      below += Number(square1 < guess)
      if (!(Math.abs(bx - middleX) < awayX && Math.abs(by - middleY) < awayY)) reached = true
      i = (i + reach) & 0x3ffffff
      if (i >= to) break
      ax = x[i]!
      ay = y[i]!
      const dx2 = cx + cx - (bx + ax)
      const dy2 = cy + cy - (by + ay)
      const square2 = dx2 * dx2 + dy2 * dy2
      most = Math.max(most, square2)
      below += Number(square2 < guess)
      if (!(Math.abs(cx - middleX) < awayX && Math.abs(cy - middleY) < awayY)) reached = true
      i = (i + reach) & 0x3ffffff
      if (i >= to) break
      bx = x[i]!
      by = y[i]!
      const dx3 = ax + ax - (cx + bx)
      const dy3 = ay + ay - (cy + by)
      const square3 = dx3 * dx3 + dy3 * dy3
      most = Math.max(most, square3)
      below += Number(square3 < guess)
      if (!(Math.abs(ax - middleX) < awayX && Math.abs(ay - middleY) < awayY)) reached = true
      i = (i + reach) & 0x3ffffff
    }
  }
  look.below = below
  look.most = most
  look.readable = most < Number.POSITIVE_INFINITY
  look.reached = reached
}
