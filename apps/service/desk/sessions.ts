import { randomBytes } from 'node:crypto'
import { setTimeout as sleep } from 'node:timers/promises'
import { isRefusal, type Result } from '@trueloop/ground/refusal'
import { today } from '@trueloop/host/clock'
import type { SigningPerson } from '@trueloop/host/signing'

/** People who have opened their key at this service. Keys and tokens are in its memory only, and end with it. */

export interface Limits {
  /** a session that nothing was asked in for so long is locked, ms */
  readonly idle_ms: number
  /** so many at once; the one that was used longest ago is locked first */
  readonly most: number
  /** the answer to a wrong passphrase waits: this after the first, twice as long after each further, up to the most; ms */
  readonly slow_ms: { readonly first: number; readonly most: number }
}

/**
 * Half an hour: about two holes with rotating probe and paper between, or a break; an open key beside a part that its
 * owner has left signs for whoever comes by. Sessions and waiting times are our own numbers; that a guess is slowed down
 * beside the cost of stretching keeps a page from trying words all night.
 */
export const usualLimits: Limits = { idle_ms: 30 * 60_000, most: 8, slow_ms: { first: 1000, most: 30_000 } }

export interface Session {
  readonly token: string
  readonly person: SigningPerson
  /** when it is locked by itself, as this computer's clock will have it then, ms since 1970 */
  readonly locks_ms: number
}

interface Kept {
  readonly token: string
  readonly person: SigningPerson
  used_ms: number
}

type Now = () => number

export class Sessions {
  readonly limits: Limits
  readonly #now: Now
  readonly #byToken = new Map<string, Kept>()
  /** wrong passphrases in a row, by name */
  readonly #wrong = new Map<string, number>()
  #turn: Promise<unknown> = Promise.resolve()

  constructor(limits: Limits = usualLimits, now: Now = Date.now) {
    this.limits = limits
    this.#now = now
  }

  /** One at a time, so that guesses are not made side by side. Refuses what opening the key refuses. */
  open(name: string, unlock: () => Promise<Result<SigningPerson>>): Promise<Result<Session>> {
    const mine = this.#turn.then(() => this.#opened(name, unlock))
    this.#turn = mine.catch(() => undefined)
    return mine
  }

  async #opened(name: string, unlock: () => Promise<Result<SigningPerson>>): Promise<Result<Session>> {
    const person = await unlock()
    if (isRefusal(person)) {
      if (person.code === 'keys/wrong-passphrase') await this.#slow(name)
      return person
    }
    this.#wrong.delete(name)
    while (this.#byToken.size >= this.limits.most) this.#dropOldest()
    const kept = { token: randomBytes(32).toString('base64url'), person, used_ms: this.#now() }
    this.#byToken.set(kept.token, kept)
    return this.#told(kept)
  }

  async #slow(name: string): Promise<void> {
    const count = this.#wrong.get(name) ?? 0
    this.#wrong.set(name, count + 1)
    const { first, most } = this.limits.slow_ms
    await sleep(Math.min(most, first * 2 ** count))
  }

  #dropOldest(): void {
    const [oldest] = [...this.#byToken.values()].sort((a, b) => a.used_ms - b.used_ms)
    if (oldest !== undefined) this.#byToken.delete(oldest.token)
  }

  /** Undefined where it was never opened, was locked, or may not sign today any more. */
  find(token: string | undefined): Session | undefined {
    const kept = token === undefined ? undefined : this.#byToken.get(token)
    if (kept === undefined) return undefined
    const { until } = kept.person
    const isIdle = this.#now() - kept.used_ms > this.limits.idle_ms
    if (!isIdle && (until === undefined || today(new Date(this.#now())) <= until)) return this.#told(kept)
    this.#byToken.delete(kept.token)
    return undefined
  }

  /** Something was asked in it: it stays open from now on. */
  use(token: string | undefined): void {
    if (this.find(token) === undefined) return
    const kept = this.#byToken.get(token ?? '')
    if (kept !== undefined) kept.used_ms = this.#now()
  }

  lock(token: string | undefined): void {
    if (token !== undefined) this.#byToken.delete(token)
  }

  #told({ token, person, used_ms }: Kept): Session {
    return { token, person, locks_ms: used_ms + this.limits.idle_ms }
  }
}
