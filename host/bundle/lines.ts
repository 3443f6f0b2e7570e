import { canonical, type EntryRow } from '@trueloop/job/record'

/**
 * A row of the chain as one line of canonical JSON. Its own hash taken out, the line is the text that the hash was
 * computed from: members stand in order, so that this takes no more than cutting.
 */
export const lineOf = ({ body, hash, previous, seq }: EntryRow): string =>
  `{"entry":${body},"hash":"${hash}","previous":"${previous}","seq":${seq}}`

export const linesOf = (rows: readonly EntryRow[]): string => rows.map((row) => `${lineOf(row)}\n`).join('')

/** The row of a line; undefined where the line is not as `lineOf` writes it. */
export function rowOf(line: string): EntryRow | undefined {
  const row = looseRow(line)
  return row !== undefined && lineOf(row) === line ? row : undefined
}

function looseRow(line: string): EntryRow | undefined {
  try {
    const { entry, hash, previous, seq } = JSON.parse(line) as Record<string, unknown>
    const { id, kind, version } = entry as Record<string, unknown>
    const body = canonical(entry)
    const row = { seq, id, kind, version, body, previous, hash }
    const isWhole = [id, kind, previous, hash].every((text) => typeof text === 'string')
    return isWhole && typeof seq === 'number' && typeof version === 'number' ? (row as EntryRow) : undefined
  } catch {
    return undefined
  }
}
