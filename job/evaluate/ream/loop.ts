import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import type { ReamRules } from '../../plan/index.ts'
import { type Code, refuse } from '../codes.ts'
import { afterCut, type Diameters, diametersOf, rangeOf, toNanometer } from './diameters.ts'
import type { ReamFact, ReamStart, ReamState, ReamStep, Shown } from './facts.ts'
import { noRules } from './ground.ts'
import { type Limits, limitsOf } from './sizes.ts'

/** What is known after some facts. */
interface Known {
  readonly rules: ReamRules
  readonly last?: ReamStep
  readonly shows?: Shown
  readonly measured_mm: readonly (readonly number[])[]
  readonly now: Diameters
  readonly cuts: number
  /** the size chosen last */
  readonly size?: Limits
  /** largest diameter at which no trace was left before further cuts; undefined where a trace was left before the last cut */
  readonly clear_mm?: number | undefined
}

/**
 * How far a hole in the loop of clean-up reaming is, from what was done in order: ream chosen, reamed, cleaned, measured,
 * standardized at that diameter, examined; further cut where the procedure asks, and round again; closed. A cut hole is
 * only closable after an examination at its diameter that shows no relevant indication any more; *not examined* and
 * *undecided* keep it open. That a hole is examined again after resizing is common practice. Source: bolt-hole-study-1, p. 56
 * A standardization and an examination may be repeated before the next cut; only facts that still hold are handed in (what
 * a recheck voided shows *not examined*).
 *
 * Refuses, with the place of the fact in `where.path`: `evaluate/ream-out-of-order`, `evaluate/ream-not-closable`,
 * `evaluate/ream-size-not-permitted`, `evaluate/ream-too-many-cuts`, `evaluate/ream-not-measured`,
 * `evaluate/ream-diameter-not-larger`, `evaluate/ream-standard-diameter`, `evaluate/ream-no-rules`.
 */
export function reamState({ rules, measured_mm }: ReamStart, facts: readonly ReamFact[]): Result<ReamState, Code> {
  if (rules === undefined) return noRules('no rules of reaming in the technique')
  const now = diametersOf(measured_mm)
  if (isRefusal(now)) return now
  let known: Known = { rules, measured_mm: [measured_mm], now, cuts: 0 }
  for (const [index, fact] of facts.entries()) {
    const after = againstOrder(known, fact.step) ?? taken(known, fact)
    if (isRefusal(after)) return { ...after, where: { path: `facts[${index}]` } }
    known = after
  }
  return stateOf(known)
}

const stateOf = (known: Known): ReamState => ({
  next: nextOf(known),
  again: againOf(known.last),
  closable: nextOf(known).includes('closed'),
  measured_mm: known.measured_mm,
  cuts: known.cuts,
  open: openOf(known)
})

const following: Readonly<Record<Exclude<ReamStep, 'examined'>, readonly ReamStep[]>> = {
  'ream chosen': ['reamed'],
  reamed: ['cleaned'],
  'further cut': ['cleaned'],
  cleaned: ['measured'],
  measured: ['standardized at that diameter'],
  'standardized at that diameter': ['examined'],
  closed: []
}

function nextOf(known: Known): readonly ReamStep[] {
  if (known.last === undefined) return ['ream chosen']
  return known.last === 'examined' ? nextExamined(known) : following[known.last]
}

function nextExamined(known: Known): readonly ReamStep[] {
  if (known.shows === 'not examined') return ['examined']
  if (known.shows === 'undecided') return ['examined', 'ream chosen']
  if (known.shows === 'relevant' || offSize(known) !== undefined) return ['ream chosen']
  return owesFurther(known) ? ['further cut'] : ['closed']
}

/** The further cut counts from the diameter at which the trace was gone, by whatever cuts it is reached. */
const owesFurther = ({ rules: { further_cut_mm: further }, clear_mm, now }: Known): boolean =>
  further !== undefined && (clear_mm === undefined || now.smallest_mm < toNanometer(clear_mm + further))

function againOf(last: ReamStep | undefined): readonly ReamStep[] {
  if (last === 'examined') return ['standardized at that diameter', 'examined']
  return last === 'standardized at that diameter' ? [last] : []
}

/** A hole that came out smaller or larger than the size that was chosen is no permitted hole. */
function offSize({ now, size }: Known): string | undefined {
  if (size === undefined || (now.smallest_mm >= size.least_mm && now.largest_mm <= size.greatest_mm)) return undefined
  const range =
    size.least_mm === size.greatest_mm ? `${size.least_mm} mm` : `${size.least_mm} to ${size.greatest_mm} mm`
  return `measured ${rangeOf(now)}, the size chosen is ${range}: cut to another permitted size or refer`
}

/** In words, what the hole still waits for. */
function openOf(known: Known): readonly string[] {
  const { last, shows } = known
  if (last === undefined || last === 'closed') return []
  if (last !== 'examined') return [`not examined since the last cut was chosen; last step: ${last}`]
  const off = offSize(known)
  const own = shows === 'no relevant indication' ? [] : [`the examination at ${rangeOf(known.now)}: ${shows}`]
  const further =
    shows === 'no relevant indication' && owesFurther(known)
      ? [`the procedure asks for a further cut of ${known.rules.further_cut_mm} mm`]
      : []
  return [...own, ...(off === undefined ? further : [off])]
}

function againstOrder(known: Known, step: ReamStep): Refusal<Code> | undefined {
  const may = [...nextOf(known), ...againOf(known.last)]
  if (may.includes(step)) return undefined
  return step === 'closed' && known.last !== undefined && known.last !== 'closed'
    ? notClosable(known)
    : outOfOrder(known, step, may)
}

const outOfOrder = ({ last }: Known, step: ReamStep, may: readonly ReamStep[]) =>
  refuse('evaluate/ream-out-of-order', {
    found: `"${step}" ${last === undefined ? 'as the first step' : `after "${last}"`}`,
    needed: may.length === 0 ? 'no step: the hole is closed' : [...new Set(may)].join(' or '),
    remedy: 'do and enter the steps in their order; what was entered wrongly is corrected, not passed over'
  })

const notClosable = (known: Known) =>
  refuse('evaluate/ream-not-closable', {
    found: openOf(known).join('; '),
    needed:
      'an examination at the diameter it has now that shows no relevant indication, and every cut the procedure asks for',
    remedy: `next: ${nextOf(known).join(' or ')}`
  })

function taken(known: Known, fact: ReamFact): Result<Known, Code> {
  const stepped = { ...known, last: fact.step }
  switch (fact.step) {
    case 'ream chosen':
    case 'further cut':
      return chosen(stepped, fact.diameter_mm)
    case 'measured':
      return measured(stepped, fact.diameters_mm)
    case 'standardized at that diameter':
      return againstStandard(known, fact.diameter_mm) ?? stepped
    case 'examined':
      return { ...stepped, shows: fact.shows }
    default:
      return stepped
  }
}

function chosen(known: Known, diameter_mm: number): Result<Known, Code> {
  const { rules, cuts, now } = known
  if (rules.most_cuts !== undefined && cuts >= rules.most_cuts) return tooMany(cuts, rules.most_cuts)
  const size = rules.permitted_sizes_mm.find((one) => toNanometer(one.diameter_mm) === toNanometer(diameter_mm))
  if (size === undefined || limitsOf(size).greatest_mm <= now.largest_mm) return notPermitted(known, diameter_mm)
  const clear_mm = known.shows === 'no relevant indication' ? (known.clear_mm ?? now.largest_mm) : undefined
  return { ...known, cuts: cuts + 1, size: limitsOf(size), clear_mm }
}

const tooMany = (cuts: number, most: number) =>
  refuse('evaluate/ream-too-many-cuts', {
    found: `one cut more after ${cuts}`,
    needed: `at most ${most} cuts, as the procedure states`,
    remedy: 'refer to engineering'
  })

const notPermitted = ({ rules, now }: Known, diameter_mm: number) =>
  refuse('evaluate/ream-size-not-permitted', {
    found: `${diameter_mm} mm chosen for a hole of ${rangeOf(now)}`,
    needed: `a larger one of the permitted sizes: ${rules.permitted_sizes_mm.map((one) => one.diameter_mm).join(', ')} mm`,
    remedy: 'choose a permitted size, or refer to engineering where none is large enough'
  })

function measured(known: Known, diameters_mm: readonly number[]): Result<Known, Code> {
  const now = afterCut(known.now, diameters_mm)
  if (isRefusal(now)) return now
  return { ...known, now, measured_mm: [...known.measured_mm, diameters_mm] }
}

/** The standardization has to hold at the smallest and at the largest diameter of the hole. */
function againstStandard({ now, rules }: Known, diameter_mm: number): Refusal<Code> | undefined {
  const apart = toNanometer(Math.max(Math.abs(now.smallest_mm - diameter_mm), Math.abs(now.largest_mm - diameter_mm)))
  if (apart <= toNanometer(rules.diameter_class_mm)) return undefined
  return refuse('evaluate/ream-standard-diameter', {
    found: `a reference standard of ${diameter_mm} mm for a hole of ${rangeOf(now)}`,
    needed: `diameters at most ${rules.diameter_class_mm} mm apart, the diameter class of the technique`,
    remedy: 'standardize on a reference standard of the diameter that the hole has now, with a probe that fits'
  })
}
