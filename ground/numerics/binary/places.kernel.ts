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
  const first = new Int32Array(Math.ceil(x.length / 2) + 1)
  const bucketOf = new Int32Array(x.length)
  sortIntoBuckets(x, bucketOf, first)
  for (let k = 1; k < first.length; k++) first[k]! += first[k - 1]!
  const out = { x: new Float64Array(x.length), hits: new Uint8Array(x.length) }
  for (let i = 0; i < x.length; i++) {
    const at = first[bucketOf[i]!]!++
    // -0 is 0, whichever came first
    out.x[at] = x[i]! + 0
    out.hits[at] = hits[i]!
  }
  sortBuckets(out, first)
  return out
}

/** The bucket of each x, and how many lie in each: counted one place further on. */
function sortIntoBuckets(x: ArrayLike<number>, bucketOf: Int32Array, counts: Int32Array): void {
  const { least, most } = extentOf(x)
  const perX = most > least ? (counts.length - 2) / (most - least) : 0
  for (let i = 0; i < x.length; i++) {
    bucketOf[i] = (x[i]! - least) * perX
    counts[bucketOf[i]! + 1]! += 1
  }
}

function extentOf(x: ArrayLike<number>): { readonly least: number; readonly most: number } {
  let [least, most] = [x[0]!, x[0]!]
  for (let i = 1; i < x.length; i++) {
    if (x[i]! < least) least = x[i]!
    if (x[i]! > most) most = x[i]!
  }
  return { least, most }
}

/** Each bucket by itself, from where they end. */
function sortBuckets(all: Ordered, ends: Int32Array): void {
  for (let k = 0, from = 0; k + 1 < ends.length; k++) {
    const to = ends[k]!
    if (to - from > FEW) sortMany(all, from, to)
    else if (to - from > 1) sortFew(all, from, to)
    from = to
  }
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
