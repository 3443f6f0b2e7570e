import type { Result } from '@trueloop/ground/refusal'
import { type Code, refuse } from '../codes.ts'
import type { SizeStatement } from '../statement.ts'

/** An indication that a cut is to clear, with what may be said of its size. */
export interface SizedIndication {
  readonly name: string
  readonly size: SizeStatement
}

/** How deep a cut has to reach by what is stated of sizes. */
export interface DepthBound {
  /** the indication whose bound is the deepest */
  readonly indication: string
  readonly upper_mm: number
  /** level of the interval, where it is the end of one */
  readonly level?: number
  /** what made it a crack's depth; without one it is that of a notch that answers so */
  readonly ratio?: string
  /** the depth as it was stated */
  readonly says: string
  /** indications, this one or others of the cut, whose bound is notch-equivalent */
  readonly notch_equivalent: readonly string[]
}

/**
 * The deepest upper bound of all indications that one cut is to clear.
 * Refuses `evaluate/ream-no-bound` where any of them has none: its size is withheld, or only "at or above" is stated.
 */
export function boundOf(indications: readonly SizedIndication[]): Result<DepthBound, Code> {
  const open = indications.filter(({ size }) => upperOf(size) === undefined)
  if (indications.length === 0 || open.length > 0) return noBound(open)
  const deepest = indications.reduce((a, b) => (b.size.upper_mm! > a.size.upper_mm! ? b : a))
  const equivalent = indications.filter(({ size }) => size.ratio === undefined).map(({ name }) => name)
  return { ...bounded(deepest), notch_equivalent: equivalent }
}

function upperOf({ withheld, upper_mm }: SizeStatement): number | undefined {
  return withheld.length === 0 && upper_mm !== undefined && Number.isFinite(upper_mm) ? upper_mm : undefined
}

const bounded = ({ name, size }: SizedIndication): Omit<DepthBound, 'notch_equivalent'> => ({
  indication: name,
  upper_mm: size.upper_mm!,
  ...(size.depth_mm === undefined || size.level === undefined ? {} : { level: size.level }),
  ...(size.ratio === undefined ? {} : { ratio: size.ratio.name }),
  says: size.depth
})

const noBound = (open: readonly SizedIndication[]) =>
  refuse('evaluate/ream-no-bound', {
    found:
      open.length === 0
        ? 'no indication to clear'
        : open.map(({ name, size }) => `${name}: ${withheldText(size)}`).join('; '),
    needed: 'a depth with an upper bound for every indication that the cut is to clear',
    remedy: 'no ream figure: refer to engineering, or take a reference standard with deeper notches and examine again'
  })

const withheldText = ({ depth, withheld }: SizeStatement): string =>
  withheld.length > 0 ? `size withheld (${withheld.join('; ')})` : `${depth}, no upper bound`
