import { isRefusal } from '@trueloop/ground/refusal'
import { type ReamFact, reamState, type Shown } from '../../evaluate/index.ts'
import { isWhole } from '../place.ts'
import type { PlaceState } from '../state.ts'
import { classOf, waits } from '../waiting.ts'
import { measuredBefore, type Round, type Rounded, roundsOf } from './rounds.ts'
import type { ReamLoop } from './stands.ts'

/** Nothing but the measuring before any cut where there was none. */
export function reamLoop(place: PlaceState, all: Rounded): ReamLoop {
  const rounds = roundsOf(all)
  const last = rounds.at(-1)
  if (last === undefined) return { measured_mm: [measuredBefore(all, undefined) ?? []], open: [] }
  const measured_mm = [rounds[0]!.before_mm, ...rounds.map((round) => round.measured_mm ?? [])]
  const missing = missingSteps(place, last)
  return {
    measured_mm,
    ...removedOf(measured_mm),
    open: [...missing, ...tooMany(rounds), ...(missing.length > 0 ? [] : loopReasons(place, rounds))]
  }
}

function removedOf(measured_mm: ReamLoop['measured_mm']): Pick<ReamLoop, 'removed'> {
  const [first = [], now = []] = [measured_mm[0], measured_mm.at(-1)]
  if (first.length === 0 || now.length === 0) return {}
  const least = Math.min(...now) - Math.max(...first)
  const most = Math.max(...now) - Math.min(...first)
  return { removed: { least_mm: Math.max(0, toNanometer(least)), most_mm: toNanometer(most) } }
}

const toNanometer = (mm: number): number => Math.round(1e6 * mm) / 1e6

/** Reamed, cleaned, measured, standardized at that diameter, examined: what is missing of it since the last cut. */
function missingSteps(place: PlaceState, round: Round): readonly string[] {
  const { day, choice, isCleaned, measured_mm, fitting } = round
  return [
    ...(choice === undefined ? ['no rules of reaming were recorded with the choice: refer it'] : []),
    ...(isCleaned ? [] : [`not cleaned since it was cut on ${day}`]),
    ...(measured_mm === undefined ? [`not measured since it was cut on ${day}`] : []),
    ...(fitting.length > 0 ? [] : [notStandardized(round)]),
    ...(isWhole(place.place, fitting) ? [] : ['not examined at its new diameter'])
  ]
}

function notStandardized({ scans, measured_mm = [], choice }: Round): string {
  const text = 'not standardized at its new diameter'
  const used = [...new Set(scans.map(({ standardDiameter_mm: one }) => (one === undefined ? 'unknown' : `${one} mm`)))]
  if (used.length === 0 || choice === undefined) return text
  const { diameter_class_mm: most } = choice.rules
  return `${text}: reference standard ${used.join(', ')}, hole ${[...measured_mm].reverse().join(' to ')} mm, at most ${most} mm apart`
}

function tooMany(rounds: readonly Round[]): readonly string[] {
  const most = rounds.at(-1)?.choice?.rules.most_cuts
  return most === undefined || rounds.length <= most
    ? []
    : [`${rounds.length} cuts, at most ${most} permitted: refer it`]
}

/** What the loop itself says of a hole whose last round is whole: its size, and a further cut that the procedure asks for. */
function loopReasons(place: PlaceState, rounds: readonly Round[]): readonly string[] {
  const rules = rounds.at(-1)?.choice?.rules
  if (rules === undefined) return []
  // cuts are counted above, those too that this walk leaves out
  const { most_cuts: _, ...limits } = rules
  const whole = rounds.filter(({ fitting }) => fitting.length > 0)
  let [start, facts]: [readonly number[], readonly ReamFact[]] = [[], []]
  for (const round of whole) {
    const isFurther = facts.length > 0 && !round.hadTrace && asksFurther(limits, start, facts)
    const shows = round === whole.at(-1) ? shownOf(place) : 'no relevant indication'
    if (!isFurther) start = round.before_mm
    facts = [...(isFurther ? facts : []), ...factsOf(round, isFurther, shows)]
  }
  const state = reamState({ rules: limits, measured_mm: start }, facts)
  if (isRefusal(state)) return [`${state.found}; needed: ${state.needed}`]
  return state.closable ? [] : state.open
}

type Rules = NonNullable<Parameters<typeof reamState>[0]['rules']>

function asksFurther(rules: Rules, measured_mm: readonly number[], facts: readonly ReamFact[]): boolean {
  const state = reamState({ rules, measured_mm }, facts)
  return !isRefusal(state) && state.next.includes('further cut')
}

function factsOf(round: Round, isFurther: boolean, shows: Shown): readonly ReamFact[] {
  const diameter_mm = round.choice!.chosen_mm
  const cut: readonly ReamFact[] = isFurther
    ? [{ step: 'further cut', diameter_mm }]
    : [{ step: 'ream chosen', diameter_mm }, { step: 'reamed' }]
  return [
    ...cut,
    { step: 'cleaned' },
    { step: 'measured', diameters_mm: round.measured_mm! },
    { step: 'standardized at that diameter', diameter_mm: round.fitting[0]!.standardDiameter_mm! },
    { step: 'examined', shows }
  ]
}

/** The last word on this diameter, by persons where they have said one. */
function shownOf({ joined, disposition }: PlaceState): Shown {
  if (disposition?.disposition === 'no recordable indication') return 'no relevant indication'
  if (joined.some((one) => classOf(one) === 'relevant')) return 'relevant'
  return joined.some(waits) ? 'undecided' : 'no relevant indication'
}
