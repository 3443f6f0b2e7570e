import type { SqliteDatabase } from 'kysely'
import type Database from 'libsql'

/**
 * What the archive does to its database for good, one call a step, so that a test can stop it at each: a `change` inside
 * a transaction or of what the file keeps of itself, and the `commit` that makes changes last (of a statement alone, the statement).
 */
export interface Writes {
  change<T>(work: () => T): T
  commit<T>(work: () => T): T
}

export const diskWrites: Writes = { change: (work) => work(), commit: (work) => work() }

/**
 * The database as the query builder uses it. Where the disk is full, SQLite rolls back by itself; the query builder's own
 * rollback would then fail and hide why.
 */
export const watched = (database: Database.Database, writes: Writes): SqliteDatabase => ({
  close: () => void database.close(),
  prepare: (text) => {
    if (text === 'rollback' && !database.inTransaction) return nothing
    const statement = database.prepare(text)
    const step = stepOf(text, database.inTransaction)
    if (step === undefined) return statement
    const around = writes[step]
    return {
      reader: statement.reader,
      all: (parameters) => around(() => statement.all(parameters)),
      run: (parameters) => around(() => statement.run(parameters)),
      iterate: (parameters) => around(() => statement.iterate(parameters))
    }
  }
})

/** What the file keeps; all other settings are of the open connection alone. */
const keptSetting = /^pragma (journal_mode|application_id|user_version) =/
const noChange = /^(select|begin|rollback|pragma) ?/

function stepOf(sql: string, inTransaction: boolean): keyof Writes | undefined {
  const text = sql.trimStart()
  if (text === 'commit') return 'commit'
  if (keptSetting.test(text)) return 'change'
  if (noChange.test(text)) return undefined
  return inTransaction ? 'change' : 'commit'
}

const nothing: ReturnType<SqliteDatabase['prepare']> = {
  reader: false,
  all: () => [],
  run: () => ({ changes: 0, lastInsertRowid: 0 }),
  iterate: () => [][Symbol.iterator]()
}
