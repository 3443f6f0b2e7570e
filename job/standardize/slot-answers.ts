import { exp, log } from '@trueloop/ground/numerics'
import type { ShimResponse } from './standardization.ts'

/**
 * Answer of a slot under a coating: amplitude interpolated in decibels between the two shims around it, at an end shim its
 * own. Nothing is extrapolated: undefined outside the shims.
 */
export function slotUnder(shims: readonly ShimResponse[], slot: string, coating_mm: number): number | undefined {
  const known = shims.flatMap(({ shim_mm, slots }) =>
    slots.flatMap(({ id, amplitude }) => (id === slot && amplitude > 0 ? [{ shim_mm, amplitude }] : []))
  )
  const first = known[0]
  const last = known.at(-1)
  if (first === undefined || last === undefined) return undefined
  if (!(coating_mm >= first.shim_mm && coating_mm <= last.shim_mm)) return undefined
  const k = known.findLastIndex(({ shim_mm }) => shim_mm <= coating_mm)
  const [a, b] = [known[k]!, known[k + 1]]
  if (b === undefined || a.shim_mm === coating_mm) return a.amplitude
  const share = (coating_mm - a.shim_mm) / (b.shim_mm - a.shim_mm)
  return a.amplitude * exp(share * log(b.amplitude / a.amplitude))
}
