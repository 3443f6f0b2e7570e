/**
 * Largest less smallest value of a column within ± half points of each point of [from, to): what an alarm on the vertical
 * peak-to-peak sees. Running extremes from both ends of blocks as long as the window (van Herk's way): a window is the
 * tail of one block and the head of the next, so each point costs a few comparisons however wide the window is.
 * @param y column `[n]` that holds `half` points on both sides of the range
 */
export function swing(
  y: Float64Array,
  half: number,
  { from, to }: { readonly from: number; readonly to: number }
): Float64Array {
  const out = new Float64Array(to - from)
  const width = 2 * half + 1
  const size = to - from + 2 * half
  const start = from - half
  const { high, low } = roomFor(size)
  // tails: from each point to the end of its block
  for (let end = size; end > 0; end = Math.floor((end - 1) / width) * width) {
    let most = Number.NEGATIVE_INFINITY
    let least = Number.POSITIVE_INFINITY
    for (let i = end - 1; i >= Math.floor((end - 1) / width) * width; i--) {
      const value = y[start + i]!
      if (value > most) most = value
      if (value < least) least = value
      high[i] = most
      low[i] = least
    }
  }
  // heads: from the beginning of the block to each point, met with the tail of the block before
  for (let block = 0; block < size; block += width) {
    let most = Number.NEGATIVE_INFINITY
    let least = Number.POSITIVE_INFINITY
    const end = Math.min(size, block + width)
    for (let i = block; i < end; i++) {
      const value = y[start + i]!
      if (value > most) most = value
      if (value < least) least = value
      const left = i - 2 * half
      if (left < 0) continue
      const up = Math.max(high[left]!, most)
      const down = Math.min(low[left]!, least)
      out[left] = up - down
    }
  }
  return out
}

let room = { high: new Float64Array(0), low: new Float64Array(0) }

function roomFor(size: number) {
  if (room.high.length < size) room = { high: new Float64Array(size), low: new Float64Array(size) }
  return room
}
