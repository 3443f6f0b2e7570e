import type { WeldTechnique } from '../plan/index.ts'
import { outOfOrder } from './order.ts'
import type { LeftOut, LimitMet, ShimResponse } from './standardization.ts'

interface Judged {
  readonly shims: readonly ShimResponse[]
  readonly leftOut: readonly LeftOut[]
  readonly noise: number
}

/** How far a left-out shim may be missed: then what lies between two shims is not told by them. */
export const LEFT_OUT = { slots: 0.1, coating_mm: 0.1 } as const

/** Every limit that a block has to meet, with what was found. */
export function weldLimits(technique: WeldTechnique, { shims, leftOut, noise }: Judged): readonly LimitMet[] {
  const named = shims.at(-1)!.slots.find(({ id }) => id === technique.alarm.slot)
  const weakest = named?.amplitude ?? 0
  const ratio = noise > 0 ? weakest / noise : Number.MAX_VALUE
  const wrong = shims.flatMap(({ shim_mm, slots }) => {
    const found = outOfOrder(slots)
    return found === undefined ? [] : [`under ${shim_mm} mm: ${found}`]
  })
  return [
    {
      limit: 'signal-to-noise of the alarm slot',
      needed: `${technique.min_signal_to_noise} or more under the thickest shim`,
      found: ratio > 1e6 ? 'no noise met' : ratio.toFixed(1),
      met: ratio >= technique.min_signal_to_noise
    },
    {
      limit: 'slots in the order of their depth',
      needed: 'amplitude grows with depth',
      found: wrong[0] ?? 'in order',
      met: wrong.length === 0
    },
    ...leftOut.map(leftOutLimit)
  ]
}

function leftOutLimit({ shim_mm, slots, noise, coating_mm }: LeftOut): LimitMet {
  const coating = coating_mm === undefined ? '' : `, its coating missed by ${coating_mm.toFixed(3)} mm`
  return {
    limit: `shims without that of ${shim_mm} mm`,
    needed: `slots within ${100 * LEFT_OUT.slots} % beyond the noise (${(100 * noise).toFixed(1)} %), coating within ${LEFT_OUT.coating_mm} mm`,
    found: `slots missed by ${(100 * slots).toFixed(1)} %${coating}`,
    met: slots - noise <= LEFT_OUT.slots && (coating_mm ?? 0) <= LEFT_OUT.coating_mm
  }
}
