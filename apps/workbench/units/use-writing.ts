import { useMemo } from 'react'
import { usePreferences } from '../shell/preferences.tsx'
import { amplitudeText, aroundText, lengthText, sentenceIn, type Writing } from './figures.ts'

/** Figures as this person has them written. */
export function useWriting() {
  const { chosen } = usePreferences()
  const { length, angle, amplitude } = chosen
  return useMemo(() => {
    const writing: Writing = { length, angle, amplitude }
    return {
      writing,
      length: (value_m: number) => lengthText(writing, value_m),
      around: (angle_rad: number, basis: string) => aroundText(writing, angle_rad, basis),
      amplitude: (value: number, unit: 'notch' | 'recorded') => amplitudeText(writing, value, unit),
      sentence: (text: string) => sentenceIn(writing, text)
    }
  }, [length, angle, amplitude])
}
