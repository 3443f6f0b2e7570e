import type { HoleTechnique } from '../plan/index.ts'
import type { Standardization } from '../standardize/index.ts'

/** The technique's alarm level: as matched output, and as vertical peak-to-peak, both with the named notch as 1. */
export interface Alarm {
  readonly matched: number
  readonly swing: number
}

/** A share of the named notch; its vertical peak-to-peak comes from the form that the reference scan gave. */
export function alarmOf(technique: HoleTechnique, standardization: Standardization): Alarm {
  const { y } = standardization.form
  const vertical = Math.max(...y) - Math.min(...y)
  return { matched: technique.alarm.share, swing: technique.alarm.share * vertical }
}
