import type { Result } from '@trueloop/ground/refusal'
import type { z } from 'zod'
import { canonical } from './canonical.ts'
import { type Code, refuse } from './codes.ts'
import { type Entry, entrySchema, kinds } from './kinds.ts'

interface Kind {
  readonly shape: {
    readonly kind: { readonly value: string }
    readonly version: { readonly value: number }
  }
}

/** How the entries of a record are read: by the kinds that it knows. */
export function parserOf<E>(kinds: readonly Kind[], schema: z.ZodType<E>): (value: unknown) => Result<E, Code> {
  const known = new Set(kinds.map(({ shape }) => `${shape.kind.value} version ${shape.version.value}`))
  return (value) => {
    const { kind, version } = (value ?? {}) as { kind?: unknown; version?: unknown }
    const name = `${String(kind)} version ${String(version)}`
    if (!known.has(name)) return unknownKind(name, [...known])
    const parsed = schema.safeParse(value)
    return parsed.success ? parsed.data : badEntry(name, parsed.error.issues[0])
  }
}

/**
 * Reads an entry from a client or from an archive.
 * Refuses `record/unknown-kind` (also a version that this program does not know) and `record/bad-entry`.
 */
export const parseEntry: (value: unknown) => Result<Entry, Code> = parserOf(kinds, entrySchema)

const badEntry = (name: string, issue: z.core.$ZodIssue | undefined) =>
  refuse('record/bad-entry', {
    found: `an entry "${name}" in which ${pathText(issue?.path ?? [])} is wrong: ${issue?.message ?? 'unreadable'}`,
    needed: 'an entry with every member its kind has, and no other',
    remedy: 'send the entry as its schema describes it',
    where: { path: pathText(issue?.path ?? []) }
  })

const unknownKind = (name: string, known: readonly string[]) =>
  refuse('record/unknown-kind', {
    found: `an entry of kind "${name}"`,
    needed: `one of: ${known.join(', ')}`,
    remedy: 'use the version of the program that wrote it, or a newer one'
  })

const pathText = (path: readonly PropertyKey[]): string =>
  path.length === 0 ? 'the entry' : path.map(String).join('.')

/**
 * An id that follows from what the entry says: running a command again makes the same entries and so no doubles.
 * `hash` gives hex SHA-256 of a text.
 */
export const entryId = (hash: (text: string) => string, about: unknown): string => hash(canonical(about)).slice(0, 32)
