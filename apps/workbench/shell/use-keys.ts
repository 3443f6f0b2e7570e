import { useEffect, useRef } from 'react'
import { usePreferences } from './preferences.tsx'

export type Keys = Readonly<Record<string, () => void>>

/** Keys that do something wherever the page is, but not while a person writes, and not where they are turned off. */
export function useKeys(keys: Keys): void {
  const { chosen } = usePreferences()
  const latest = useRef(keys)
  latest.current = keys
  useEffect(() => {
    if (!chosen.keys) return
    const listen = (event: KeyboardEvent) => {
      if (event.ctrlKey || event.metaKey || event.altKey || isWriting(event.target)) return
      const act = latest.current[event.key]
      if (act === undefined) return
      event.preventDefault()
      act()
    }
    window.addEventListener('keydown', listen)
    return () => window.removeEventListener('keydown', listen)
  }, [chosen.keys])
}

const isWriting = (target: EventTarget | null): boolean =>
  target instanceof HTMLElement &&
  (/^(INPUT|TEXTAREA|SELECT)$/.test(target.tagName) || target.closest('dialog') !== null)
