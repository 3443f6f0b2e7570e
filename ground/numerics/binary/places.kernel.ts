/** Places rising, with counts at each. */
export interface Counts {
  readonly x: Float64Array
  readonly hits: Float64Array
  readonly misses: Float64Array
}

/** Single outcomes, 1 or 0, each at its x. */
export interface Singles {
  readonly x: ArrayLike<number>
  readonly hits: ArrayLike<number>
}

/** Outcomes in a bucket up to which they are put in order one by one. */
const FEW = 24

/** Single outcomes counted at their places. All x finite, one at least. */
export function placesOfSingles(singles: Singles): Counts {
  const { x, hits } = inOrder(singles)
  const [hit, missed] = [new Float64Array(x.length), new Float64Array(x.length)]
  let kept = -1
  for (let i = 0; i < x.length; i++) {
    if (i === 0 || x[i] !== x[kept]) x[++kept] = x[i]!
    hit[kept]! += hits[i]!
    missed[kept]! += 1 - hits[i]!
  }
  const front = (column: Float64Array): Float64Array => (kept + 1 === x.length ? column : column.slice(0, kept + 1))
  return { x: front(x), hits: front(hit), misses: front(missed) }
}

interface Ordered {
  readonly x: Float64Array
  readonly hits: Uint8Array
}

/** By rising x: thrown into buckets of equal width, two to a bucket on average, then put in order in each. */
function inOrder({ x, hits }: Singles): Ordered {
  const n = x.length
  let [least, most] = [x[0]!, x[0]!]
  for (let i = 1; i < n; i++) {
    if (x[i]! < least) least = x[i]!
    if (x[i]! > most) most = x[i]!
  }
  const buckets = Math.ceil(n / 2)
  const perX = most > least ? (buckets - 1) / (most - least) : 0
  const first = new Int32Array(buckets + 1)
  const of = new Int32Array(n)
  for (let i = 0; i < n; i++) {
    of[i] = (x[i]! - least) * perX
    first[of[i]! + 1]! += 1
  }
  for (let k = 0; k < buckets; k++) first[k + 1]! += first[k]!
  const out = { x: new Float64Array(n), hits: new Uint8Array(n) }
  for (let i = 0; i < n; i++) {
    const at = first[of[i]!]!++
    // -0 is 0, whichever came first
    out.x[at] = x[i]! + 0
    out.hits[at] = hits[i]!
  }
  // where a bucket was said to begin, it ends by now
  for (let k = 0, from = 0; k < buckets; k++) {
    const to = first[k]!
    if (to - from > FEW) sortMany(out, from, to)
    else if (to - from > 1) sortFew(out, from, to)
    from = to
  }
  return out
}

function sortFew({ x, hits }: Ordered, from: number, to: number): void {
  for (let i = from + 1; i < to; i++) {
    const [value, hit] = [x[i]!, hits[i]!]
    let k = i
    for (; k > from && x[k - 1]! > value; k--) {
      x[k] = x[k - 1]!
      hits[k] = hits[k - 1]!
    }
    x[k] = value
    hits[k] = hit
  }
}

/** Hits and misses sorted apart and put together again. */
function sortMany({ x, hits }: Ordered, from: number, to: number): void {
  const of = (outcome: number): Float64Array =>
    x
      .slice(from, to)
      .filter((_, i) => hits[from + i] === outcome)
      .sort()
  const [hit, miss] = [of(1), of(0)]
  let [h, m] = [0, 0]
  for (let i = from; i < to; i++) {
    const isHit = m === miss.length || (h < hit.length && hit[h]! <= miss[m]!)
    x[i] = isHit ? hit[h++]! : miss[m++]!
    hits[i] = isHit ? 1 : 0
  }
}
