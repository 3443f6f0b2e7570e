import { z } from 'zod'
import { canonical } from './canonical.ts'

/** Hex SHA-256 of a text in UTF-8. */
export type Hash = (text: string) => string

/** One entry in its place. `body` is the entry as canonical JSON: the bytes that the hash stands for. */
export interface EntryRow {
  readonly seq: number
  readonly id: string
  readonly kind: string
  readonly version: number
  readonly body: string
  readonly previous: string
  readonly hash: string
}

/** What the first entry of a job has as the hash before it. */
export const beginning = '0'.repeat(64)

/** Hash of an entry in its place: over canonical `{entry, previous, seq}`. `body` is canonical JSON already. */
export const chainHash = (hash: Hash, { seq, previous, body }: Pick<EntryRow, 'seq' | 'previous' | 'body'>): string =>
  hash(`{"entry":${body},"previous":${canonical(previous)},"seq":${canonical(seq)}}`)

/** Rows as a document holds them: of a chain that another device wrote. */
export const rowsSchema = z.array(
  z.strictObject({
    ...{ seq: z.number().int().min(0), id: z.string(), kind: z.string(), version: z.number().int() },
    ...{ body: z.string(), previous: z.string(), hash: z.string() }
  })
)
