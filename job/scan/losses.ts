/** Where a recording is not sound, as a bounded list. */

/**
 * Samples `first` to `last` (both belong to it). `unreadable`: they are NaN in the segments. `missing`: the recording
 * does not hold them (segments jump over them). `suspect`: they were read, but something about them is wrong.
 */
export interface Loss {
  readonly kind: 'unreadable' | 'missing' | 'suspect'
  readonly first: number
  readonly last: number
  readonly reason: string
}

const LIMIT = 256
const OVERFLOW = 'many more places, listed as one stretch'

/** Collects losses in the order of the samples and joins neighbors; past the limit one stretch covers all the rest. */
export class LossList {
  private readonly list: Loss[] = []

  add(loss: Loss): void {
    const before = this.list.at(-1)
    if (before !== undefined && joins(before, loss)) this.list[this.list.length - 1] = { ...before, last: loss.last }
    else if (this.list.length < LIMIT) this.list.push(loss)
    else this.stretch(loss)
  }

  private stretch(loss: Loss): void {
    const before = this.list.at(-1) as Loss
    const last = Math.max(before.last, loss.last)
    const first = Math.min(before.first, loss.first)
    this.list[this.list.length - 1] = { kind: 'suspect', first, last, reason: OVERFLOW }
  }

  get all(): readonly Loss[] {
    return this.list
  }
}

const joins = (before: Loss, loss: Loss): boolean =>
  before.kind === loss.kind && before.reason === loss.reason && loss.first === before.last + 1
