import { useSyncExternalStore } from 'react'
import { freshId, type Said } from '../asking/statements.ts'
import { drop, put, type Waiting, waitingOn } from './waiting.ts'

/** What waits, the same in all pages of this computer that are open. */

/** This page, from when it was loaded to when it is closed. */
const page = freshId()

const listeners = new Set<() => void>()
let now: readonly Waiting[] = waitingOn(localStorage)

/** What is kept has changed, here or in another tab. */
export function changed(): void {
  now = waitingOn(localStorage)
  for (const listener of listeners) listener()
}

window.addEventListener('storage', changed)

const subscribe = (listener: () => void) => {
  listeners.add(listener)
  return () => listeners.delete(listener)
}

interface About {
  readonly job: string
  readonly place?: string
  readonly by: string
  readonly seen: number
}

export function useOutbox() {
  const all = useSyncExternalStore(subscribe, () => now)
  return {
    all,
    /** Takes a statement: from here on it is not lost. */
    take: ({ seen, ...about }: About, said: Said): void => {
      const statement = { ...said, id: freshId(), seen }
      put(localStorage, { ...about, statement, page, made: new Date().toISOString() })
      changed()
    },
    /** A person gives up what was refused. */
    giveUp: (id: string): void => {
      drop(localStorage, id)
      changed()
    }
  }
}
