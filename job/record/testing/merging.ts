import { isRefusal, type Result, sentence } from '@trueloop/ground/refusal'
import { canonical } from '../canonical.ts'
import { append, chainOf, type EntryRow } from '../chain.ts'
import type { Code } from '../codes.ts'
import type { Entry, EntryOf } from '../kinds.ts'
import { mergeFacts } from '../merging/merge.ts'
import { head, sha256 } from './entries.ts'
import { type Invented, signedBy, witnessOf } from './people.ts'

/** Two invented devices that work on one job apart. */

export class Device {
  rows: readonly EntryRow[]
  readonly texts: Map<string, string>
  readonly people: readonly Invented[]
  constructor(people: readonly Invented[], rows: readonly EntryRow[] = [], texts = new Map<string, string>()) {
    this.people = people
    this.rows = rows
    this.texts = new Map(texts)
  }
  /** the same record on another device */
  copy(): Device {
    return new Device(this.people, this.rows, this.texts)
  }
  try(entries: readonly Entry[], elsewhere = false): Result<readonly EntryRow[], Code> {
    const { document, holds } = witnessOf(this.people)
    const witness = { document: (hash: string) => this.texts.get(hash) ?? document(hash), holds }
    const adding = { expectedSeq: this.rows.length, entries, elsewhere }
    const done = append(chainOf('J', this.rows, witness), adding, sha256)
    if (isRefusal(done)) return done
    this.rows = [...this.rows, ...done.fresh]
    return done.fresh
  }
  add(...entries: readonly Entry[]): this {
    const done = this.try(entries)
    if (isRefusal(done)) throw new Error(`${done.code}: ${sentence(done)}`)
    return this
  }
  signed(by: Invented, draft: Record<string, unknown>, at?: Entry['at']): Entry {
    const seen = { job: 'J', head: this.rows.at(-1)!.hash }
    const moment = at === undefined ? {} : { at }
    return signedBy(by, { version: 1, ...head(), ...moment, ...draft } as never, seen)
  }
  /** the entries by which the other device's record comes into this one */
  merging(other: Device, by: Invented, over: Record<string, unknown> = {}): readonly Entry[] {
    const facts = mergeFacts(this.rows, other.rows)
    if (facts === undefined) throw new Error('nothing to merge')
    for (const [hash, text] of other.texts) this.texts.set(hash, text)
    const document = canonical(other.rows.slice(facts.common))
    const rows = sha256(document)
    this.texts.set(rows, document)
    const stored: EntryOf<'document-stored'> = {
      ...{ kind: 'document-stored', version: 1, ...head(), document: rows, what: 'other chain' }
    }
    const brought = other.rows.filter(({ id }) => facts.brings.includes(id))
    const draft = { kind: 'merged', ...facts, theirs: { ...facts.theirs, rows }, reason: 'worked apart', ...over }
    const entries = brought.map(({ body }) => JSON.parse(body) as Entry)
    const late = { ...stored, at: { time: '2026-03-15T09:00:00Z', known: 'clock of this computer' } as const }
    return [late, ...entries, this.signed(by, draft, late.at)]
  }
  merge(other: Device, by: Invented, over: Record<string, unknown> = {}): this {
    return this.add(...this.merging(other, by, over))
  }
}
