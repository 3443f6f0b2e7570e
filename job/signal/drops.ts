/** A stretch that was not used, in sample or ruler numbers, half open, and why. */
export interface Dropped {
  readonly from: number
  readonly to: number
  readonly unit: 'sample' | 'revolution' | 'm'
  readonly samples: number
  readonly reason: string
}

const MOST_ENTRIES = 1024

/**
 * Every loss with its reason, in order. Bounded: neighbors of one reason are joined, and when the log is full the entry
 * is widened instead of lost, so that the log may say too much but never too little.
 */
export class DropLog {
  readonly #entries: { from: number; to: number; unit: Dropped['unit']; samples: number; reason: string }[] = []

  add(drop: Dropped): void {
    const last = this.#lastOf(drop)
    const near = last !== undefined && drop.from <= last.to
    if (last !== undefined && (near || this.#entries.length >= MOST_ENTRIES)) {
      last.to = Math.max(last.to, drop.to)
      last.from = Math.min(last.from, drop.from)
      last.samples += drop.samples
      return
    }
    this.#entries.push({ ...drop })
  }

  entries(): readonly Dropped[] {
    return this.#entries.map((entry) => ({ ...entry }))
  }

  #lastOf(drop: Dropped) {
    for (let i = this.#entries.length - 1; i >= 0; i--) {
      const entry = this.#entries[i]!
      if (entry.reason === drop.reason && entry.unit === drop.unit) return entry
    }
    return undefined
  }
}
