import { canonical } from './canonical.ts'

/** One place in which two JSON values differ. */
export interface Difference {
  readonly path: string
  readonly was: string
  readonly now: string
}

/** All places in which two JSON values differ, members in canonical order. A missing member reads "nothing". */
export function differences(was: unknown, now: unknown, path = ''): readonly Difference[] {
  if (was === now) return []
  if (isTree(was) && isTree(now) && Array.isArray(was) === Array.isArray(now)) {
    const keys = [...new Set([...Object.keys(was), ...Object.keys(now)])].sort()
    return keys.flatMap((key) => differences(was[key], now[key], step(path, key, Array.isArray(was))))
  }
  const texts = { was: textOf(was), now: textOf(now) }
  return texts.was === texts.now ? [] : [{ path: path === '' ? 'the whole' : path, ...texts }]
}

type Tree = Readonly<Record<string, unknown>>

const isTree = (value: unknown): value is Tree => typeof value === 'object' && value !== null

const step = (path: string, key: string, isList: boolean): string =>
  isList ? `${path}[${key}]` : path === '' ? key : `${path}.${key}`

const textOf = (value: unknown): string => (value === undefined ? 'nothing' : canonical(value))
