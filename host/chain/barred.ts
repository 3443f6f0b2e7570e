import type { Refusal } from '@trueloop/ground/refusal'
import type { Sheet } from '@trueloop/job/plan'
import {
  bracketRulesOf,
  type Circumstances,
  circumstancesBy,
  type Happening,
  openings,
  type Voided
} from '@trueloop/job/record'
import { refuse } from './codes.ts'
import type { Kept } from './keep.ts'
import { factsOf } from './open.ts'

/** The set-up as the walk has met it so far: whether a scan may still rely on it. */
export class SetUpSoFar {
  private readonly known: (facts: Kept['facts'], at: number) => Circumstances
  private readonly opening: ReturnType<typeof openings>
  /** changes before recordings that nobody judged: they have changed for the next one too */
  private waiting: NonNullable<Circumstances['since']> = []
  private latest: Circumstances = {}
  private no: Voided | undefined

  constructor(sheet: Sheet) {
    const facts = factsOf(sheet)
    // one after the other: what came before is known
    this.known = circumstancesBy(facts, () => true)
    this.opening = openings(bracketRulesOf(facts))
  }

  /** Before every recording, in their order. */
  meet({ facts, index }: Kept): void {
    const { since = [], ...rest } = this.known(facts, index)
    this.waiting = [...this.waiting, ...since]
    this.latest = rest
  }

  /** What the recording that was met last turned out to be. */
  was(what: Happening['what'], recording: string, setUp: string): void {
    const since = this.waiting.length === 0 ? {} : { since: this.waiting }
    const no = this.opening({ what, recording, setUp, ...this.latest, ...since })
    this.no = this.latest.isUnsure === true ? undefined : no
    this.waiting = []
  }

  /** Why the scan that was met last can not count, whatever comes after it. */
  barred(): Refusal | undefined {
    const { no } = this
    if (no === undefined) return undefined
    return no.by === undefined ? overdue(no.why) : afterFailure(no.why)
  }
}

const afterFailure = (found: string): Refusal =>
  refuse('chain/not-restandardized', {
    found,
    needed: 'a new standardization after a failed recheck: a later pass does not heal it',
    remedy: 'scan the reference standard as `of: reference`, then scan the place again; what this scan shows stays open'
  })

const overdue = (found: string): Refusal =>
  refuse('chain/recheck-overdue', {
    found,
    needed: 'a good recheck before the scan: the technique asks for one',
    remedy: 'check the set-up on the reference standard, then scan the place again; what this scan shows stays open'
  })
