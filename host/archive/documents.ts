import type { Result } from '@trueloop/ground/refusal'
import { canonical } from '@trueloop/job/record'
import type { Kysely } from 'kysely'
import { sha256 } from '../hash/index.ts'
import { documentColumns, textFrom } from './bytes.ts'
import { type Code, refuse } from './codes.ts'
import type { Tables } from './tables.ts'
import { damaged } from './trouble.ts'

/** An immutable document under the hash of its text. */
export interface StoredDocument {
  readonly hash: string
  readonly kind: string
  readonly text: string
}

/** Stores a value as canonical JSON, once; gives its name. */
export async function store(db: Kysely<Tables>, kind: string, value: unknown): Promise<string> {
  const body = canonical(value)
  const hash = sha256(body)
  await db
    .insertInto('document')
    .values({ hash, kind, body })
    .onConflict((conflict) => conflict.column('hash').doNothing())
    .execute()
  return hash
}

/** Refuses `archive/no-document`, and `archive/damaged` where the text is not the one its name stands for. */
export async function load(db: Kysely<Tables>, hash: string): Promise<Result<StoredDocument, Code>> {
  const row = await db.selectFrom('document').select(documentColumns).where('hash', '=', hash).executeTakeFirst()
  if (row === undefined) return missing(hash)
  const text = textFrom(row.body)
  const found = sha256(text)
  if (found !== hash) return damaged(`document ${hash}`, `a text whose hash is ${found}`)
  return { hash, kind: textFrom(row.kind), text }
}

/** The text under a name as it is, sound or not: for `verify`, which says what is wrong with it. */
export async function textOf(db: Kysely<Tables>, hash: string): Promise<string | undefined> {
  const row = await db.selectFrom('document').select(documentColumns).where('hash', '=', hash).executeTakeFirst()
  return row === undefined ? undefined : textFrom(row.body)
}

const missing = (hash: string) =>
  refuse('archive/no-document', {
    found: `no document under the name ${hash}`,
    needed: 'a document that was stored in this archive',
    remedy: 'restore the archive from a backup that has it'
  })
