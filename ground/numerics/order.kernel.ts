/**
 * Rearranges values[left … right] so that values[k] is the one a sort would put there, smaller or equal ones before it,
 * larger or equal ones after it. Mean time proportional to the length. source: hoare-1961
 */
export function selectKernel(values: Float64Array, k: number): void {
  let left = 0
  let right = values.length - 1
  while (left < right) {
    const middle = (left + right) >>> 1
    const a = values[left]!
    const b = values[middle]!
    const c = values[right]!
    const pivot = Math.max(Math.min(a, b), Math.min(Math.max(a, b), c))
    let i = left
    let j = right
    while (i <= j) {
      while (values[i]! < pivot) i++
      while (values[j]! > pivot) j--
      if (i <= j) {
        const swap = values[i]!
        values[i++] = values[j]!
        values[j--] = swap
      }
    }
    if (k <= j) right = j
    else if (k >= i) left = i
    else return
  }
}

/**
 * Copies the values within [low, high] to the front of `band` (of the length of `values`), in their order; gives how
 * many they are, and how many lie below and above: what is none of these is not a number. Comparisons are counted as
 * numbers: a branch would be guessed wrongly.
 */
export function bracketKernel(
  values: Float64Array,
  [low, high]: readonly [number, number],
  band: Float64Array
): { readonly below: number; readonly inside: number; readonly above: number } {
  const length = values.length
  let below = 0
  let inside = 0
  let above = 0
  for (let i = 0; i < length; i++) {
    const value = values[i]!
    const isBelow = Number(value < low)
    band[inside] = value
    inside = (inside + (Number(value <= high) & (1 - isBelow))) | 0
    below = (below + isBelow) | 0
    above = (above + Number(value > high)) | 0
  }
  return { below, inside, above }
}

/** As `bracketKernel`, of the sizes |p x + q y|. */
export function sizeBracketKernel(
  { x, y, p, q }: { readonly x: Float64Array; readonly y: Float64Array; readonly p: number; readonly q: number },
  [low, high]: readonly [number, number],
  band: Float64Array
): { readonly below: number; readonly inside: number; readonly above: number } {
  const length = x.length
  let below = 0
  let inside = 0
  let above = 0
  for (let i = 0; i < length; i++) {
    const value = Math.abs(p * x[i]! + q * y[i]!)
    const isBelow = Number(value < low)
    band[inside] = value
    inside = (inside + (Number(value <= high) & (1 - isBelow))) | 0
    below = (below + isBelow) | 0
    above = (above + Number(value > high)) | 0
  }
  return { below, inside, above }
}
