/** What the harmonics of one revolution are taken with: every `every`-th of its elements; made once for many. */
export interface HarmonicWeights {
  readonly every: number
  /** cosine and sine of one, two and three turns, for each element that is taken: `[elements, 6]` */
  readonly table: Float64Array
  /** from sums over these elements to half axes */
  readonly gain: number
}

/**
 * Content once, twice and three times a revolution: both senses of a cycle make an ellipse, whose longer half axis is the
 * sum of their sizes.
 * @param out `[3]`
 */
export function harmonicsOf(
  { x, y }: { readonly x: Float64Array; readonly y: Float64Array },
  { every, table, gain }: HarmonicWeights,
  out: Float64Array
): void {
  for (let k = 0; k < 3; k++) {
    let xc = 0
    let xs = 0
    let yc = 0
    let ys = 0
    for (let i = 0, at = 2 * k; at < table.length; i = (i + every) & 0x3ffffff, at = (at + 6) & 0x3ffffff) {
      const c = table[at]!
      const s = table[at + 1]!
      const u = x[i]!
      const v = y[i]!
      xc += u * c
      xs += u * s
      yc += v * c
      ys += v * s
    }
    const forth = Math.sqrt((xc + ys) * (xc + ys) + (yc - xs) * (yc - xs))
    const back = Math.sqrt((xc - ys) * (xc - ys) + (yc + xs) * (yc + xs))
    out[k] = gain * (forth + back)
  }
}
