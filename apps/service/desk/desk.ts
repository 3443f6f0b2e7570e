import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import type { DrawingRow } from '@trueloop/host/chain'
import { today, wallClock } from '@trueloop/host/clock'
import type { Crew } from '@trueloop/host/crew'
import { replayed } from '@trueloop/host/memory'
import { signatories, signerFor } from '@trueloop/host/signing'
import { shopChain } from '@trueloop/job/plan'
import { noPlace } from '../api/refused.ts'
import type {
  IntakeFile,
  IntakeSubject,
  Pace,
  SessionView,
  Stated,
  Statement,
  Watching,
  WatchView
} from '../api/schemas/index.ts'
import { refuse } from '../codes.ts'
import type { HeldArchive } from '../held-archive.ts'
import { bring, type SentDrawing } from './bringing.ts'
import { Feed } from './feed.ts'
import { takeIn, type Verdict } from './intake.ts'
import { paceOf } from './pace.ts'
import { plainName } from './plain-name.ts'
import { type Limits, type Session, Sessions, usualLimits } from './sessions.ts'
import { stated } from './stating.ts'
import { FolderWatch, type Timing } from './watch.ts'

export interface Opening {
  /** data folder, in which the keys lie */
  readonly home: string
  readonly archive: HeldArchive
  /** only of the demonstration, whose passphrase is no secret */
  readonly demonstration?: { readonly passphrase: string }
  readonly limits?: Limits
  /** examines what comes in, beside the thread that answers; closed with the desk. Without one this thread does. */
  readonly crew?: Crew
  /** a folder that is watched for recordings: named by whoever starts the service, never by a page */
  readonly watch?: { readonly folder: string; readonly timing?: Timing }
}

/** Where people sign in and state what they decide. */
export class Desk {
  readonly sessions: Sessions
  readonly feed: Feed
  readonly #watch: FolderWatch | undefined
  readonly #opening: Opening

  constructor(opening: Opening) {
    this.#opening = opening
    this.feed = new Feed(opening.archive)
    const { archive, watch, crew } = opening
    this.#watch = watch === undefined ? undefined : new FolderWatch({ archive, feed: this.feed, crew, ...watch })
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

  readerOf(token: string | undefined): string | undefined {
    return this.sessions.find(token)?.person.signer.row.name
  }

  /** Undefined where there is no such job. */
  async pace(job: string): Promise<Result<Pace | undefined>> {
    if (job === shopChain) return undefined
    const rows = await this.#opening.archive.use((archive) => archive.entries(job))
    return isRefusal(rows) || rows.length === 0 ? (isRefusal(rows) ? rows : undefined) : paceOf(rows, today())
  }

  watchView(job: string): WatchView {
    const view = this.#watch?.view()
    return view === undefined || view.job !== job ? { watches: view !== undefined, files: [] } : view
  }

  /** Undefined where there is no such job. Refuses service/not-signed-in, service/no-watch, service/no-such-file, decide/no-such-place. */
  async watch(
    job: string,
    { expects, take }: Watching,
    token: string | undefined
  ): Promise<Result<WatchView | undefined>> {
    const session = this.sessions.find(token)
    if (session === undefined) return notSignedIn()
    if (this.#watch === undefined) return noWatch()
    const no = await this.#subjectComplaint(job, expects)
    if (no === undefined || isRefusal(no)) return no
    await this.#watch.expect(job, session.person.signer.row.name, expects ?? undefined)
    const taken = take === undefined ? undefined : this.#watch.take(take)
    return taken === undefined || !isRefusal(taken) ? this.watchView(job) : taken
  }

  /** A recording that a page sends. Refuses as `watch`, and what `takeIn` does. */
  async upload(job: string, sent: Sent, token: string | undefined): Promise<Result<IntakeFile | undefined>> {
    const session = this.sessions.find(token)
    if (session === undefined) return notSignedIn()
    const { subject, bytes } = sent
    const no = await this.#subjectComplaint(job, subject)
    if (no === undefined || isRefusal(no)) return no
    const file = plainName(sent.file, 'recording')
    const tell = (progress: object) => this.feed.tell(job, { event: 'progress', data: progress })
    const by = session.person.signer.row.name
    const { archive, crew } = this.#opening
    const verdict = await takeIn(archive, { job, file, subject, by, bytes, tell, crew })
    void this.feed.changed()
    if (verdict === undefined || isRefusal(verdict)) return verdict
    return { file, subject, ...(verdict as Verdict), at: wallClock().time }
  }

  /** A drawing or photo that a page sends. Refuses service/not-signed-in, and what `bring` does. */
  async bringDrawing(
    job: string,
    sent: SentDrawing,
    token: string | undefined
  ): Promise<Result<DrawingRow | undefined>> {
    const session = this.sessions.find(token)
    if (session === undefined) return notSignedIn()
    if (job === shopChain) return undefined
    const { signer } = session.person
    const done = await bring({ archive: this.#opening.archive, job, signer }, sent)
    void this.feed.changed()
    return done
  }

  /** Undefined where there is no such job; true where the subject is of it. */
  async #subjectComplaint(job: string, subject: IntakeSubject | null): Promise<Result<true | undefined>> {
    if (job === shopChain) return undefined
    const rows = await this.#opening.archive.use((archive) => archive.entries(job))
    if (isRefusal(rows) || rows.length === 0) return isRefusal(rows) ? rows : undefined
    const place = placeIn(subject)
    if (place === undefined) return true
    const { places } = replayed(rows).opened
    return places.some(({ of, name }) => of === place.of && name === place.name) || noPlace({ job, ...place })
  }

  async close(): Promise<void> {
    this.feed.close()
    await this.#watch?.close()
    await this.#opening.crew?.close()
  }
}

/** The place that a recording is of, or that it is taken for; undefined for the reference standard. */
function placeIn(subject: IntakeSubject | null) {
  if (subject === null) return undefined
  if ('name' in subject) return subject
  return 'track' in subject ? { of: 'track', name: subject.track } : undefined
}

/** A recording as a page sends it. */
export interface Sent {
  readonly file: string
  readonly subject: IntakeSubject
  readonly bytes: AsyncIterable<Uint8Array>
}

const noWatch = (): Refusal =>
  refuse('service/no-watch', {
    found: 'a service that was started without a folder to watch',
    needed: 'a folder, named by whoever starts the service',
    remedy: 'start it again with the folder: serve --watch FOLDER'
  })

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
