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
