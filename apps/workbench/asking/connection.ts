import { useSyncExternalStore } from 'react'

/** Whether the service answers, as far as this page knows. */

let answers = true
const listeners = new Set<() => void>()

export function tellConnection(now: boolean): void {
  if (now === answers) return
  answers = now
  for (const listener of listeners) listener()
}

export const useConnection = (): boolean =>
  useSyncExternalStore(
    (listener) => {
      listeners.add(listener)
      return () => listeners.delete(listener)
    },
    () => answers
  )
