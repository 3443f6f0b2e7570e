import { type RefObject, useLayoutEffect, useState } from 'react'

/** Width of an element in CSS pixels, as it is now. */
export function useWidth(element: RefObject<HTMLElement | null>): number {
  const [width, set] = useState(0)
  useLayoutEffect(() => {
    const { current } = element
    if (current === null) return
    set(current.clientWidth)
    const watcher = new ResizeObserver(() => set(current.clientWidth))
    watcher.observe(current)
    return () => watcher.disconnect()
  }, [element])
  return width
}
