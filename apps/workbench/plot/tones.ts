import { useEffect, useState } from 'react'
import { usePreferences } from '../shell/preferences.tsx'

/** The tones of the page, for drawings: the same variables that its style has. */
export interface Tones {
  readonly paper: string
  readonly sheet: string
  readonly ink: string
  readonly quiet: string
  readonly line: string
  readonly accent: string
  readonly amber: string
  readonly red: string
}

const names = ['paper', 'sheet', 'ink', 'quiet', 'line', 'accent', 'amber', 'red'] as const

function read(): Tones {
  const style = getComputedStyle(document.documentElement)
  return Object.fromEntries(names.map((name) => [name, style.getPropertyValue(`--${name}`).trim()])) as unknown as Tones
}

/** Whether the page is dark now. */
export const useDark = (): boolean => isDark(useTones().sheet)

/** By the mean of its three parts: paper is far from the middle in either theme. */
const isDark = (hex: string): boolean => {
  const parts = [1, 3, 5].map((at) => Number.parseInt(hex.slice(at, at + 2), 16))
  return parts.reduce((sum, part) => sum + part, 0) < 384
}

/** Read again when the theme changes, by the person or by the system. */
export function useTones(): Tones {
  const { chosen } = usePreferences()
  const [tones, set] = useState(read)
  // biome-ignore lint/correctness/useExhaustiveDependencies: the theme changes what the document says, not a value here
  useEffect(() => {
    const again = () => set(read())
    again()
    const system = matchMedia('(prefers-color-scheme: dark)')
    system.addEventListener('change', again)
    return () => system.removeEventListener('change', again)
  }, [chosen.theme])
  return tones
}
