import { createContext, type ReactNode, useCallback, useContext, useEffect, useMemo, useState } from 'react'

/** What a person has chosen of how figures are written and the page looks. Kept on this computer; it changes no value. */
export interface Preferences {
  readonly length: 'mm' | 'inch'
  readonly angle: 'degrees' | 'clock'
  readonly amplitude: 'share' | 'dB'
  readonly theme: 'as the system' | 'light' | 'dark'
  /** keys without a modifier do something (WCAG 2.2, 2.1.4: they can be turned off) */
  readonly keys: boolean
  readonly sound: boolean
}

const first: Preferences = {
  length: 'mm',
  angle: 'degrees',
  amplitude: 'share',
  theme: 'as the system',
  keys: true,
  sound: true
}

const shelf = 'trueloop/preferences'

function kept(): Preferences {
  try {
    return { ...first, ...(JSON.parse(localStorage.getItem(shelf) ?? '{}') as Partial<Preferences>) }
  } catch {
    return first
  }
}

interface Choosing {
  readonly chosen: Preferences
  choose(some: Partial<Preferences>): void
}

const Context = createContext<Choosing>({ chosen: first, choose: () => undefined })

export const usePreferences = (): Choosing => useContext(Context)

export function PreferencesProvider({ children }: { readonly children: ReactNode }) {
  const [chosen, set] = useState(kept)
  const choose = useCallback((some: Partial<Preferences>) => {
    set((before) => {
      const after = { ...before, ...some }
      localStorage.setItem(shelf, JSON.stringify(after))
      return after
    })
  }, [])
  useEffect(() => {
    const { dataset } = document.documentElement
    if (chosen.theme === 'as the system') delete dataset.theme
    else dataset.theme = chosen.theme
  }, [chosen.theme])
  const value = useMemo(() => ({ chosen, choose }), [chosen, choose])
  return <Context value={value}>{children}</Context>
}
