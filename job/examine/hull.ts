/** Points of the plane on the outside of everything seen so far, with the sample number each came from. */
export interface HullPoint {
  readonly x: number
  readonly y: number
  readonly sample: number
}

/**
 * Convex hull of a growing set of points: what a farthest pair can be made of. The points it keeps are those of the
 * whole set (its corners), so cutting the stream changes nothing and memory does not grow with it.
 * Andrew's monotone chain. source: andrew-1979
 */
export class Hull {
  #points: HullPoint[] = []
  #fresh: HullPoint[] = []

  add(point: HullPoint): void {
    this.#fresh.push(point)
    if (this.#fresh.length >= 4096) this.#merge()
  }

  /** Corners of the hull, counterclockwise; the earliest sample where several lie on one place. */
  corners(): readonly HullPoint[] {
    this.#merge()
    return this.#points
  }

  #merge(): void {
    if (this.#fresh.length === 0) return
    const all = [...this.#points, ...this.#fresh].sort((a, b) => a.x - b.x || a.y - b.y || a.sample - b.sample)
    this.#fresh = []
    const places = all.filter((point, i) => i === 0 || point.x !== all[i - 1]!.x || point.y !== all[i - 1]!.y)
    if (places.length < 3) {
      this.#points = places
      return
    }
    const lower = chain(places)
    const upper = chain([...places].reverse())
    this.#points = [...lower.slice(0, -1), ...upper.slice(0, -1)]
  }
}

function chain(points: readonly HullPoint[]): HullPoint[] {
  const kept: HullPoint[] = []
  for (const point of points) {
    while (kept.length >= 2 && !turnsLeft(kept.at(-2)!, kept.at(-1)!, point)) kept.pop()
    kept.push(point)
  }
  return kept
}

const turnsLeft = (a: HullPoint, b: HullPoint, c: HullPoint): boolean =>
  (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x) > 0

/** The two corners farthest from each other, earlier sample first. */
export function farthestPair(corners: readonly HullPoint[]): readonly [HullPoint, HullPoint] | undefined {
  let best = -1
  let pair: readonly [HullPoint, HullPoint] | undefined
  for (let i = 0; i < corners.length; i++) {
    for (let j = i + 1; j < corners.length; j++) {
      const a = corners[i]!
      const b = corners[j]!
      const d = (a.x - b.x) * (a.x - b.x) + (a.y - b.y) * (a.y - b.y)
      if (d > best) {
        best = d
        pair = a.sample < b.sample ? [a, b] : [b, a]
      }
    }
  }
  return pair
}
