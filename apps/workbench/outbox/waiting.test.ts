import { beforeEach, describe, expect, it } from 'vitest'
import { drop, nextToSend, put, refuse, type Shelf, seen, type Waiting, waitingOn } from './waiting.ts'

const shelfOf = (kept: Record<string, string> = {}): Shelf & { readonly kept: Record<string, string> } => ({
  kept,
  get length() {
    return Object.keys(kept).length
  },
  key: (at) => Object.keys(kept)[at] ?? null,
  getItem: (name) => kept[name] ?? null,
  setItem: (name, text) => {
    kept[name] = text
  },
  removeItem: (name) => {
    delete kept[name]
  }
})

let made = 0
const note = (id: string, more: Partial<Waiting> = {}): Waiting => ({
  ...{ job: 'J-1', place: 'W-01', by: 'B. Two', page: 'p1', made: `2026-01-02T03:04:05.${100 + made++}Z` },
  statement: { id, seen: 12, what: 'note', place: 'W-01', text: 'a scratch at the entry' },
  ...more
})

let shelf: ReturnType<typeof shelfOf>
beforeEach(() => {
  shelf = shelfOf()
})
const ids = () => waitingOn(shelf).map(({ statement }) => statement.id)

describe('what waits', () => {
  it('keeps its order, once each, and outlives the page', () => {
    for (const id of ['a', 'b', 'a']) put(shelf, note(id))
    expect(ids()).toEqual(['b', 'a'])
    const later = shelfOf({ ...shelf.kept })
    expect(waitingOn(later)).toEqual(waitingOn(shelf))
    drop(shelf, 'b')
    expect(ids()).toEqual(['a'])
  })

  it('that was refused stays, with the reason, and is sent no more by itself', () => {
    put(shelf, note('a'))
    put(shelf, note('b'))
    refuse(shelf, 'a', [{ code: 'x', found: 'f', needed: 'n', remedy: 'r' }])
    expect(ids()).toEqual(['a', 'b'])
    expect(nextToSend(waitingOn(shelf), 'B. Two')?.statement.id).toBe('b')
  })

  it('is sent under the key of the one who said it, and of nobody else', () => {
    put(shelf, note('a', { by: 'C. Three' }))
    put(shelf, note('b'))
    expect(nextToSend(waitingOn(shelf), 'B. Two')?.statement.id).toBe('b')
    expect(nextToSend(waitingOn(shelf), undefined)).toBeUndefined()
  })

  it('has seen what was said just before it in the same page, and nothing else', () => {
    put(shelf, note('same'))
    put(shelf, note('other page', { page: 'p2' }))
    put(shelf, note('older', { statement: { ...note('older').statement, seen: 11 } }))
    put(shelf, note('elsewhere', { job: 'J-2' }))
    seen(shelf, { job: 'J-1', page: 'p1' }, { before: 12, count: 14 })
    expect(waitingOn(shelf).map(({ statement }) => statement.seen)).toEqual([14, 12, 11, 12])
  })

  it('of two pages at once is all there: neither writes over what the other has taken', () => {
    put(shelf, note('a'))
    const seenByOther = waitingOn(shelf)
    put(shelf, note('b'))
    drop(shelf, seenByOther[0]!.statement.id)
    expect(ids()).toEqual(['b'])
    refuse(shelf, 'a', [])
    expect(ids()).toEqual(['b'])
  })

  it.each(['{', 'null', '{"a":1}', '[1,null,{"job":"J"}]'])('is nothing where the page finds %s', (text) => {
    expect(waitingOn(shelfOf({ 'trueloop/waiting/x': text, 'trueloop/preferences': '{}' }))).toEqual([])
  })
})
