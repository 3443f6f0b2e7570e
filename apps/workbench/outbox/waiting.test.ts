import { beforeEach, describe, expect, it } from 'vitest'
import { drop, nextToSend, put, refuse, type Shelf, seen, type Waiting, waitingOn } from './waiting.ts'

const shelfOf = (text?: string): Shelf & { text: string | undefined } => ({
  text,
  getItem() {
    return this.text ?? null
  },
  setItem(_, value) {
    this.text = value
  }
})

const note = (id: string, more: Partial<Waiting> = {}): Waiting => ({
  ...{ job: 'J-1', place: 'W-01', by: 'B. Two', made: '2026-01-02T03:04:05Z' },
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
    const later = shelfOf(shelf.text)
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

  it('has seen what the same person said just before it, and nothing else', () => {
    put(shelf, note('same'))
    put(shelf, note('older', { statement: { ...note('older').statement, seen: 11 } }))
    put(shelf, note('elsewhere', { job: 'J-2' }))
    seen(shelf, 'J-1', { before: 12, count: 14 })
    expect(waitingOn(shelf).map(({ statement }) => statement.seen)).toEqual([14, 11, 12])
  })

  it.each(['{', 'null', '{"a":1}', '[1,null,{"job":"J"}]'])('is nothing where the page finds %s', (text) => {
    expect(waitingOn(shelfOf(text))).toEqual([])
  })
})
