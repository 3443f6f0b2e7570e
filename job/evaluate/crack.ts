import type { Refusal } from '@trueloop/ground/refusal'
import type { ResponseRatio } from '../plan/index.ts'
import type { Answering } from './asked.ts'
import { refuse } from './codes.ts'
import { depthOf, inside, type Told } from './estimate.ts'
import type { Sizing } from './parameters.ts'
import { type Met, ratioAgainst } from './ratio.ts'
import type { DepthRange, RatioUsed } from './statement.ts'

/** The depth of a crack, by a response ratio that holds for it. */
export interface Crack {
  readonly range: DepthRange
  readonly used: RatioUsed
  readonly turn: 'used' | 'contradicts' | 'none'
}

export interface Ratios {
  readonly crack: Crack | undefined
  /** why each of the others was not applied */
  readonly why: readonly Refusal[]
}

/** The first ratio that holds for set-up, kinds and the depth that comes of it. */
export function crackBy(
  told: Told,
  { ratios, met, numbers }: { readonly ratios: readonly ResponseRatio[]; readonly met: Met; readonly numbers: Sizing },
  equivalent: DepthRange
): Ratios {
  const why: Refusal[] = []
  for (const ratio of ratios) {
    const against = ratioAgainst(ratio, met)
    if (against !== undefined) {
      why.push(against)
      continue
    }
    const depths = depthOf(told, answeringOf(ratio), numbers)
    const range = inside(depths, 'any', told)
    const outside = ratioAgainst(ratio, { ...met, depth_mm: range.depth_mm ?? range.lower_mm ?? range.upper_mm ?? 0 })
    if (outside !== undefined) {
      why.push(outside)
      continue
    }
    return { crack: { range: notLower(range, equivalent), used: usedOf(ratio), turn: depths.turn }, why }
  }
  return { crack: undefined, why }
}

/** The ratio of one more crack scatters by the spread and by what the mean of so many is known to. */
export const answeringOf = ({
  ratio,
  spread,
  cracks
}: Pick<ResponseRatio, 'ratio' | 'spread' | 'cracks'>): Answering => ({
  ratio,
  variance: spread * spread * (1 + 1 / cracks)
})

/** A ratio never lowers a size: each figure is at least the notch-equivalent one. An end that is not stated is open. */
function notLower(crack: DepthRange, equivalent: DepthRange): DepthRange {
  const lower = higher(crack.lower_mm, equivalent.lower_mm)
  if (crack.depth_mm === undefined && crack.lower_mm !== undefined) return { lower_mm: higher(lower, crack.lower_mm)! }
  if (equivalent.depth_mm === undefined) return crack
  if (crack.depth_mm === undefined || crack.depth_mm < equivalent.depth_mm)
    return { ...equivalent, ...upperOf(crack, equivalent) }
  return {
    depth_mm: crack.depth_mm,
    ...(lower === undefined ? {} : { lower_mm: Math.min(lower, crack.depth_mm) }),
    ...upperOf(crack, equivalent)
  }
}

const upperOf = (crack: DepthRange, equivalent: DepthRange): DepthRange =>
  crack.upper_mm === undefined || equivalent.upper_mm === undefined
    ? {}
    : { upper_mm: Math.max(crack.upper_mm, equivalent.upper_mm) }

const higher = (a: number | undefined, b: number | undefined): number | undefined =>
  a === undefined || b === undefined ? (a ?? b) : Math.max(a, b)

const usedOf = ({ name, ratio, spread, cracks, source, approved }: ResponseRatio): RatioUsed => ({
  ...{ name, ratio, spread, cracks, source },
  approved: `${approved.by}, level ${approved.level}, ${approved.on}`
})

/** A ratio can only be applied to a depth that the notches give. */
export const ratioWithoutValue = (): Refusal =>
  refuse('evaluate/ratio-without-value', {
    found: 'a response ratio, and a flaw whose size is told by bounds between notches',
    needed: 'a flaw followed along the axis, and notches enough for a law of depth and length',
    remedy: 'the size stays notch-equivalent'
  })
