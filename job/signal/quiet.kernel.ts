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
  /** which extremes a sample that has both neighbors stands at or beyond: sum of 1 (high x), 2 (low x), 4 (high y), 8 (low y) */
  reached: number
}

/**
 * One pass over samples in which, as a rule, nothing is wrong. The square is that of twice the measure of `markSpikes`: of
 * a sample's distance from the sum of its two neighbors `reach` away.
 *
 * The samples of one remainder by `reach` are gone through after each other, so that each is read once; three a round, in
 * which a, b and c take turns in being the middle, and what the compiler asks of each array once a round is shared.
 * `& 0x3ffffff` spares it a check for overflow.
 */
export function lookOver(x: Float64Array, y: Float64Array, { from, to, reach }: Window, look: Look): void {
  const { highX, lowX, highY, lowY, guess } = look
  let below = 0
  let most = 0
  let total = 0
  let reached = 0
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
      total += square1
      if (square1 > most) most = square1
      if (square1 < guess) below++
      if (bx >= highX || bx <= lowX || by >= highY || by <= lowY)
        reached |= (bx >= highX ? 1 : 0) | (bx <= lowX ? 2 : 0) | (by >= highY ? 4 : 0) | (by <= lowY ? 8 : 0)
      i = (i + reach) & 0x3ffffff
      if (i >= to) break
      ax = x[i]!
      ay = y[i]!
      const dx2 = cx + cx - (bx + ax)
      const dy2 = cy + cy - (by + ay)
      const square2 = dx2 * dx2 + dy2 * dy2
      total += square2
      if (square2 > most) most = square2
      if (square2 < guess) below++
      if (cx >= highX || cx <= lowX || cy >= highY || cy <= lowY)
        reached |= (cx >= highX ? 1 : 0) | (cx <= lowX ? 2 : 0) | (cy >= highY ? 4 : 0) | (cy <= lowY ? 8 : 0)
      i = (i + reach) & 0x3ffffff
      if (i >= to) break
      bx = x[i]!
      by = y[i]!
      const dx3 = ax + ax - (cx + bx)
      const dy3 = ay + ay - (cy + by)
      const square3 = dx3 * dx3 + dy3 * dy3
      total += square3
      if (square3 > most) most = square3
      if (square3 < guess) below++
      if (ax >= highX || ax <= lowX || ay >= highY || ay <= lowY)
        reached |= (ax >= highX ? 1 : 0) | (ax <= lowX ? 2 : 0) | (ay >= highY ? 4 : 0) | (ay <= lowY ? 8 : 0)
      i = (i + reach) & 0x3ffffff
    }
  }
  look.below = below
  look.most = most
  look.readable = total < Number.POSITIVE_INFINITY
  look.reached = reached
}
