import { medianInPlace } from '@trueloop/ground/numerics'

let scratch = new Float64Array(0)

/** How a spike is told: not wider than `width` samples, `ratio` times the median step of its block, alone. */
export interface SpikeRule {
  readonly width: number
  readonly ratio: number
  readonly contrast: number
}

/** Samples of neighborhood that the rule looks at on each side. */
export const spikeMargin = ({ width }: SpikeRule): number => 2 * (width + 1) + 2 * width + 6

/**
 * Marks spikes in a contiguous copy of samples: `ok[i]` becomes 1 where sample i is sound, 0 where it
 * can't be read, 2 where it is a spike.
 * The measure is the distance of a sample from the middle of its two neighbors beyond a spike's width, which turning,
 * scaling and shifting the plane do not change. A smooth flaw signal is never taken: the measure must stand alone
 * against its own neighborhood, not only against the block.
 *
 * @param x columns `[n]`, recorded units
 * @param rule widths in samples
 * @returns number of spikes marked
 */
export function markSpikes(x: Float64Array, y: Float64Array, ok: Uint8Array, rule: SpikeRule): number {
  const n = x.length
  const reach = rule.width + 1
  if (isQuiet(x, y, ok, rule)) return 0
  if (scratch.length < 2 * n) scratch = new Float64Array(2 * n)
  const measure = scratch.subarray(0, n).fill(0)
  const sound = scratch.subarray(n, 2 * n)
  let count = 0
  for (let i = 0; i < n; i++) {
    const xi = x[i]!
    const yi = y[i]!
    if (!(Number.isFinite(xi) && Number.isFinite(yi))) {
      ok[i] = 0
      continue
    }
    ok[i] = 1
    if (i < reach || i >= n - reach) continue
    const dx = xi - 0.5 * (x[i - reach]! + x[i + reach]!)
    const dy = yi - 0.5 * (y[i - reach]! + y[i + reach]!)
    const d = Math.sqrt(dx * dx + dy * dy)
    if (!Number.isFinite(d)) continue
    measure[i] = d
    sound[count++] = d
  }
  if (count === 0) return 0
  const level = rule.ratio * medianInPlace(sound.subarray(0, count))
  if (level === 0) return 0 // a quantized quiet signal: nothing to measure a spike against
  let spikes = 0
  for (let i = 0; i < n; i++) {
    const m = measure[i]!
    if (m > level && standsAlone(measure, i, rule)) {
      spikes++
      const from = Math.max(0, i - rule.width + 1)
      const to = Math.min(n - 1, i + rule.width - 1)
      for (let j = from; j <= to; j++) if (ok[j] === 1) ok[j] = 2
    }
  }
  return spikes
}

/**
 * Whether all samples can be read and none can be a spike, found without the median: then all are marked sound. The
 * largest measure is no spike where at most half of the measures lie below its `ratio`-th part. Squares are compared,
 * with room for rounding: a block in doubt is not quiet.
 */
function isQuiet(x: Float64Array, y: Float64Array, ok: Uint8Array, rule: SpikeRule): boolean {
  const n = x.length
  const reach = rule.width + 1
  if (n < 4 * reach) return false
  if (scratch.length < n) scratch = new Float64Array(2 * n)
  const squares = scratch
  let most = 0
  for (let i = reach; i < n - reach; i++) {
    const dx = x[i]! - 0.5 * (x[i - reach]! + x[i + reach]!)
    const dy = y[i]! - 0.5 * (y[i - reach]! + y[i + reach]!)
    const square = dx * dx + dy * dy
    squares[i] = square
    if (square > most) most = square
    else if (!(square <= most)) return false // a sample that can't be read makes a measure that is no number
  }
  if (most === Number.POSITIVE_INFINITY) return false
  const level = (most / (rule.ratio * rule.ratio)) * (1 + 1e-9)
  let below = 0
  for (let i = reach; i < n - reach; i++) if (squares[i]! < level) below++
  if (below > Math.floor((n - 2 * reach - 1) / 2)) return false
  ok.fill(1)
  return true
}

function standsAlone(measure: Float64Array, i: number, { width, contrast }: SpikeRule): boolean {
  const m = measure[i]!
  const near = 2 * width + 1
  let around = 0
  for (let k = 1; k <= near; k++) {
    if (m < (measure[i - k] ?? 0) || m < (measure[i + k] ?? 0)) return false
  }
  for (let k = near + 1; k <= near + 4; k++) around = Math.max(around, measure[i - k] ?? 0, measure[i + k] ?? 0)
  return m > contrast * around
}
