import { type ExpressionBuilder, sql } from 'kysely'
import type { Tables } from './tables.ts'

/**
 * Text columns are read as bytes: the driver ends the whole process on text that is no UTF-8, and a damaged database is
 * a refusal. What can't be decoded becomes U+FFFD, and so shows as a text with another hash.
 */
type Bytes = Uint8Array | null

const decoder = new TextDecoder('utf-8', { ignoreBOM: true })

export const textFrom = (bytes: Bytes): string => (bytes === null ? '' : decoder.decode(bytes))

const bytesOf = <Name extends string>(name: Name) => sql<Bytes>`cast(${sql.ref(name)} as blob)`.as(name)

export const jobColumns = (_: ExpressionBuilder<Tables, 'job'>) => [bytesOf('id'), 'count', bytesOf('head')] as const

export const entryColumns = (_: ExpressionBuilder<Tables, 'entry'>) =>
  ['seq', bytesOf('id'), bytesOf('kind'), 'version', bytesOf('body'), bytesOf('previous'), bytesOf('hash')] as const

export const documentColumns = (_: ExpressionBuilder<Tables, 'document'>) => [bytesOf('kind'), bytesOf('body')] as const
