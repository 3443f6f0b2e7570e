import { atan2, PI } from '@trueloop/ground/numerics'
import type { AcrossPoint } from './answer.ts'

/** A point of the loop that a scan across the flaw draws. */
export interface LoopPoint {
  /** Middle of the pair from the flaw, mm. */
  readonly across_mm: number
  /** In units of the peak-to-peak of the alarm notch; lift-off points to -x. */
  readonly x: number
  readonly y: number
}

export interface Loop {
  readonly points: readonly LoopPoint[]
  /** Largest distance of two points. */
  readonly peak_to_peak: number
  /** Angle between that distance and the lift-off direction, degrees, 0 to 90. */
  readonly angle_deg: number
}

interface Complex {
  readonly x: number
  readonly y: number
}

interface Placed extends Complex {
  readonly at: number
}

/**
 * Loop of a balanced pair of the driving coil, one lobe spacing apart and wound against each other: a plain stand-in where the
 * pick-ups are not stated. `across` has one side; the other is alike.
 */
export function twinLoop(across: readonly AcrossPoint[], spacing_m: number): readonly Placed[] {
  const reach = across[across.length - 1]!.at + 0.5 * spacing_m
  return Array.from({ length: 2 * POINTS + 1 }, (_, i) => {
    const at = (reach * (i - POINTS)) / POINTS
    const [lead, trail] = [valueAt(across, at + 0.5 * spacing_m), valueAt(across, at - 0.5 * spacing_m)]
    return { at, x: lead.x - trail.x, y: lead.y - trail.y }
  })
}

/** Loop of a pair that was modeled itself: one side, and the other with the other sign. */
export const pairLoop = (across: readonly AcrossPoint[]): readonly Placed[] => [
  ...across
    .slice(1)
    .map(({ at, x, y }) => ({ at: -at, x: 0 - x, y: 0 - y }))
    .reverse(),
  ...across
]

const POINTS = 48

function valueAt(across: readonly AcrossPoint[], place: number): Complex {
  const at = Math.abs(place)
  const next = across.findIndex((one) => one.at >= at)
  if (next < 0) return { x: 0, y: 0 }
  const [before, after] = [across[Math.max(0, next - 1)]!, across[next]!]
  const share = after.at === before.at ? 0 : (at - before.at) / (after.at - before.at)
  return { x: before.x + share * (after.x - before.x), y: before.y + share * (after.y - before.y) }
}

/** A loop in units of another, with what a person reads of it. */
export function loopAgainst(flaw: readonly Placed[], notch: readonly Complex[]): Loop {
  const unit = lengthOf(peakToPeak(notch))
  const span = peakToPeak(flaw)
  const turn = (atan2(span.y, span.x) * 180) / PI
  return {
    points: flaw.map(({ at, x, y }) => ({ across_mm: 1000 * at, x: x / unit, y: y / unit })),
    peak_to_peak: lengthOf(span) / unit,
    angle_deg: Math.abs(turn) > 90 ? 180 - Math.abs(turn) : Math.abs(turn)
  }
}

const lengthOf = ({ x, y }: Complex): number => Math.sqrt(x * x + y * y)

/** The two points of a loop that lie farthest apart, as a vector. */
export function peakToPeak(loop: readonly Complex[]): Complex {
  let most: Complex = { x: 0, y: 0 }
  for (const a of loop) {
    for (const b of loop) {
      const [x, y] = [a.x - b.x, a.y - b.y]
      if (x * x + y * y > most.x * most.x + most.y * most.y) most = { x, y }
    }
  }
  return most
}
