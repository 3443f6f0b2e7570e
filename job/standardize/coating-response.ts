import { atan2 } from '@trueloop/ground/numerics'
import type { Result } from '@trueloop/ground/refusal'
import type { WeldStandard } from '../plan/index.ts'
import type { Turn } from '../signal/index.ts'
import { CoatingScale } from './coating-scale.ts'
import { slotUnder } from './slot-answers.ts'
import type { LeftOut, ShimResponse } from './standardization.ts'
import { absoluteDiffers, shimsOutOfOrder, shimTwice } from './weld-refusals.ts'
import type { ShimReading } from './weld-shim.ts'

interface ReadAs {
  readonly turn: Turn
  readonly standard: WeldStandard
  /** vertical noise, 1 = the named slot */
  readonly noise: number
}

export interface Responses {
  readonly shims: readonly ShimResponse[]
  readonly leftOut: readonly LeftOut[]
}

/** Answers under every shim, thinnest first, and how well each is told from the others. */
export function shimResponses(runs: readonly ShimReading[], as: ReadAs): Result<Responses> {
  const twice = runs.find(({ shim_mm }, i) => runs[i + 1]?.shim_mm === shim_mm)
  if (twice !== undefined) return shimTwice(twice.shim_mm)
  const withAbsolute = runs.filter(({ absolute }) => absolute !== undefined).length
  if (withAbsolute > 0 && withAbsolute < runs.length)
    return absoluteDiffers(`an absolute channel in ${withAbsolute} of ${runs.length} runs`)
  const shims = runs.map((run) => responseOf(run, as))
  const wrong = wrongOrder(shims, as.noise)
  if (wrong !== undefined) return shimsOutOfOrder(wrong)
  return { shims, leftOut: leftOutOf(shims) }
}

function responseOf({ shim_mm, peaks, absolute }: ShimReading, { turn, standard, noise }: ReadAs): ShimResponse {
  const slots = peaks.map((peak, k) => {
    const x = peak.x * turn.x - peak.y * turn.y
    const y = peak.x * turn.y + peak.y * turn.x
    const { id, depth_mm } = standard.slots[k]!
    return { id, depth_mm, amplitude: y, phase_rad: atan2(y, x), scatter: y > 0 ? noise / y : 1 }
  })
  return { shim_mm, slots, ...(absolute === undefined ? {} : { absolute }) }
}

/** What does not go on as the shims do: a slot that answers more under a thicker shim, an absolute channel that turns. */
function wrongOrder(shims: readonly ShimResponse[], noise: number): string | undefined {
  for (let i = 1; i < shims.length; i++) {
    const [thin, thick] = [shims[i - 1]!, shims[i]!]
    const grown = thick.slots.find(({ amplitude }, k) => amplitude > thin.slots[k]!.amplitude + noise)
    if (grown !== undefined) return `${grown.id} answers more under ${thick.shim_mm} mm than under ${thin.shim_mm} mm`
  }
  const levels = shims.flatMap(({ absolute }) => (absolute === undefined ? [] : [absolute.level]))
  const steps = levels.slice(1).map((level, i) => level - levels[i]!)
  if (steps.every((step) => step > 0) || steps.every((step) => step < 0)) return undefined
  return `an absolute channel that reads ${levels.map((level) => level.toFixed(3)).join(', ')} from shim to shim`
}

/** A reading may differ by this many deviations of its noise. */
const TWICE = 2

/** Shims that the curve of the absolute channel takes. */
const LEAST_OF_CURVE = 3

/** Every shim between two others, told from the others alone. The first and the last are not: nothing is extrapolated. */
function leftOutOf(shims: readonly ShimResponse[]): readonly LeftOut[] {
  return shims.slice(1, -1).map((left) => {
    const others = shims.filter((one) => one !== left)
    const missed = left.slots.map(({ id, amplitude, scatter }) => {
      const told = slotUnder(others, id, left.shim_mm) ?? Number.POSITIVE_INFINITY
      return { slots: Math.abs(told / amplitude - 1), noise: TWICE * scatter }
    })
    // the one that noise explains least
    const worst = missed.reduce((most, one) => (one.slots - one.noise > most.slots - most.noise ? one : most))
    // two shims alone make a straight line of what is none: that would not be the scale's own error
    const scale = others.length < LEAST_OF_CURVE ? undefined : scaleOf(others)
    if (scale === undefined || left.absolute === undefined) return { shim_mm: left.shim_mm, ...worst }
    const told = scale.read(left.absolute.level)
    const coating_mm = typeof told === 'number' ? Math.abs(told - left.shim_mm) : Number.POSITIVE_INFINITY
    return { shim_mm: left.shim_mm, ...worst, coating_mm }
  })
}

/** A reading within this share of the range beyond an end shim is still that shim: how well a shim's thickness is known. */
export const SHIM_MARGIN = 0.02

/** The scale of the absolute channel; none with fewer than two shims, or without such a channel. */
export function scaleOf(shims: readonly ShimResponse[]): CoatingScale | undefined {
  const readings = shims.flatMap(({ shim_mm, absolute }) =>
    absolute === undefined ? [] : [{ shim_mm, level: absolute.level }]
  )
  return readings.length < 2 ? undefined : new CoatingScale(readings, SHIM_MARGIN)
}

/** The scatter of every answer: noise, and what a left-out shim of the same block misses where it is more. */
export function withScatter(
  shims: readonly ShimResponse[],
  { leftOut, noise }: { readonly leftOut: readonly LeftOut[]; readonly noise: number }
): readonly ShimResponse[] {
  const missed = leftOut.reduce((most, { slots }) => Math.max(most, slots), 0)
  const of = (amplitude: number): number => Math.max(missed, amplitude > 0 ? noise / amplitude : 1)
  return shims.map((shim) => ({
    ...shim,
    slots: shim.slots.map((slot) => ({ ...slot, scatter: of(slot.amplitude) }))
  }))
}
