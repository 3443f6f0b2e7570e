import type { Refusal } from '@trueloop/ground/refusal'
import type { WeldSheet } from '../sheet.ts'
import { unfit } from '../weld/fitness.ts'
import { pathText } from '../where.ts'

/** Of each probe the check that was made last has to be met; earlier ones stand for its trend. */
export function checkProbes({ probe_checks: checks = [] }: WeldSheet): readonly Refusal[] {
  const last = new Map<string, number>()
  for (const [k, { probe, on }] of checks.entries()) {
    const before = checks[last.get(probe) ?? -1]
    if (before === undefined || before.on <= on) last.set(probe, k)
  }
  return [...last.values()].flatMap((k) => {
    const check = checks[k]
    const where = { path: pathText(['probe_checks', k]) }
    return check === undefined ? [] : unfit(check).map((one) => ({ ...one, where }))
  })
}
