import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import { signatories, signerFor } from '@trueloop/host/signing'
import { shopChain } from '@trueloop/job/plan'
import type { SessionView, Stated, Statement } from '../api/schemas/index.ts'
import { refuse } from '../codes.ts'
import type { HeldArchive } from '../held-archive.ts'
import { Feed } from './feed.ts'
import { type Limits, type Session, Sessions, usualLimits } from './sessions.ts'
import { stated } from './stating.ts'

export interface Opening {
  /** data folder, in which the keys lie */
  readonly home: string
  readonly archive: HeldArchive
  /** only of the demonstration, whose passphrase is no secret */
  readonly demonstration?: { readonly passphrase: string }
  readonly limits?: Limits
}

/** Where people sign in and state what they decide. */
export class Desk {
  readonly sessions: Sessions
  readonly feed: Feed
  readonly #opening: Opening

  constructor(opening: Opening) {
    this.#opening = opening
    this.feed = new Feed(opening.archive)
    this.sessions = new Sessions(opening.limits ?? usualLimits)
  }

  /** Refuses what the command line refuses: signing/not-registered, signing/person-expired, and those of the key. */
  signIn(name: string, passphrase: string): Promise<Result<Session>> {
    const { archive, home } = this.#opening
    return this.sessions.open(name, () => archive.use((open) => signerFor(name, open, { home, passphrase })))
  }

  async view(token: string | undefined): Promise<Result<SessionView>> {
    const { archive, home, demonstration } = this.#opening
    const people = await archive.use((open) => signatories(open, home))
    if (isRefusal(people)) return people
    const found = this.sessions.find(token)
    return {
      ...(found === undefined ? {} : { person: personOf(found) }),
      idle_min: this.sessions.limits.idle_ms / 60_000,
      registers: people.length > 0,
      people: [...people],
      ...(demonstration === undefined ? {} : { demonstration })
    }
  }

  /** Undefined where there is no such job. Refuses service/not-signed-in, and what `stated` refuses. */
  async state(job: string, asked: Statement, token: string | undefined): Promise<Result<Stated | undefined>> {
    const session = this.sessions.find(token)
    if (session === undefined) return notSignedIn()
    if (job === shopChain) return undefined
    const { signer } = session.person
    const done = await this.#opening.archive.write((archive) => stated({ archive, job, asked, signer }))
    if (!isRefusal(done)) void this.feed.changed()
    if (isRefusal(done) && done.code === 'service/register-changed') this.sessions.lock(token)
    return done
  }
}

function personOf({ person, locks_ms }: Session): NonNullable<SessionView['person']> {
  const { signer, until, due } = person
  const { name, level } = signer.row
  return {
    ...{ name, level, locks: new Date(locks_ms).toISOString() },
    ...(until === undefined ? {} : { until }),
    due: due.map((one) => ({
      of: one.of,
      ...(one.until === undefined ? {} : { until: one.until }),
      ...(one.left_days === undefined ? {} : { left_days: one.left_days })
    }))
  }
}

const notSignedIn = (): Refusal =>
  refuse('service/not-signed-in', {
    found: 'nobody who has signed in, or a key that was locked meanwhile',
    needed: 'a person of the register whose key is open here',
    remedy: 'sign in; what was not recorded waits in the page'
  })
