import { log, normalQuantile } from '@trueloop/ground/numerics'
import type { NotchReading } from '../standardize/index.ts'
import type { Sizing } from './parameters.ts'
import type { RowNoise } from './rows.ts'

/** What notches say without any curve: between which of them an answer lies. */

export interface Bounds {
  readonly depth: string
  /** notch-equivalent: a crack that answers so is at least this deep, as far as cracks answer weaker than notches */
  readonly lower_mm?: number
  /** notch-equivalent only: a crack that answers so may be deeper */
  readonly upper_mm?: number
}

/** What the answers of a flaw and of a notch of its depth may differ by. */
export interface Differing {
  readonly noise: RowNoise | undefined
  readonly numbers: Pick<Sizing, 'leftOut' | 'notchScatter' | 'aspectSpread'>
}

/**
 * Between which notches of a kind, in the order of their depths, an amplitude lies; and between which depths the flaw then
 * lies, at the level of a size: scatter of notches, noise, and a flaw that is longer or shorter than a notch of its depth,
 * whose answer is at most in proportion to its length.
 */
export function between(amplitude: number, kind: readonly NotchReading[], differing: Differing): Bounds {
  const above = kind.findIndex((notch) => notch.amplitude > amplitude)
  const below = above < 0 ? kind.at(-1) : kind[above - 1]
  const next = above < 0 ? undefined : kind[above]
  return { depth: answersText(below, next), ...surely(amplitude, kind, differing) }
}

function answersText(below: NotchReading | undefined, next: NotchReading | undefined): string {
  if (next === undefined) return `answers as or above notch ${below!.id}`
  if (below === undefined) return `answers below notch ${next.id}`
  return `answers between notches ${below.id} and ${next.id}`
}

/** The deepest notch that it answers surely above, and the shallowest that it answers surely below. */
function surely(amplitude: number, kind: readonly NotchReading[], differing: Differing): Omit<Bounds, 'depth'> {
  const apart = (notch: NotchReading) =>
    log(amplitude / notch.amplitude) / deviationOf(amplitude, notch.amplitude, differing)
  const reach = normalQuantile(1 - 0.5 * differing.numbers.leftOut)
  const lower = kind.filter((notch) => apart(notch) >= reach).at(-1)
  const upper = kind.find((notch) => apart(notch) <= -reach)
  return {
    ...(lower === undefined ? {} : { lower_mm: lower.depth_mm }),
    ...(upper === undefined ? {} : { upper_mm: upper.depth_mm })
  }
}

/** Of the logarithm of one answer over another of the same depth. */
function deviationOf(a: number, b: number, { noise, numbers }: Differing): number {
  const { notchScatter, aspectSpread } = numbers
  const noisy = (noise?.yy ?? 0) * (1 / (a * a) + 1 / (b * b))
  return Math.sqrt(2 * notchScatter * notchScatter + aspectSpread * aspectSpread + noisy)
}

/** Near a face a flaw of the bore and one of the corner can't be told apart: the wider of both statements holds. */
export function either(corner: Bounds, bore: Bounds): Bounds {
  const lower =
    corner.lower_mm === undefined || bore.lower_mm === undefined ? undefined : [corner.lower_mm, bore.lower_mm]
  const upper =
    corner.upper_mm === undefined || bore.upper_mm === undefined ? undefined : [corner.upper_mm, bore.upper_mm]
  return {
    depth: `${corner.depth}; were it mid-bore, ${bore.depth}`,
    ...(lower === undefined ? {} : { lower_mm: Math.min(...lower) }),
    ...(upper === undefined ? {} : { upper_mm: Math.max(...upper) })
  }
}
