import type { Lane, WeldPlan } from './schema.ts'

/** A strip of the zone, across from the middle of the weld, mm. */
export interface Strip {
  readonly name: Lane['over']
  readonly from_mm: number
  readonly to_mm: number
}

/** Zone of a weld: the cap, both toes, and parent metal on each side; a toe is a line and is run by lanes of its own. */
export function stripsOf({ cap_mm, parent_mm }: WeldPlan): readonly Strip[] {
  const half = 0.5 * cap_mm
  return [
    { name: 'parent A', from_mm: -half - parent_mm, to_mm: -half },
    { name: 'toe A', from_mm: -half, to_mm: -half },
    { name: 'cap', from_mm: -half, to_mm: half },
    { name: 'toe B', from_mm: half, to_mm: half },
    { name: 'parent B', from_mm: half, to_mm: half + parent_mm }
  ]
}

/** Neighboring runs may lie this share of the field apart. Common practice, no source. */
const STEP_SHARE = 0.5
/** A sum of steps may miss by rounding, mm. */
const ROUNDING = 1e-9

/** What lanes that are run one way leave out of a strip, mm across; empty where all of it is passed. */
export function gapsIn(strip: Strip, plan: WeldPlan, run: Lane['run']): readonly (readonly [number, number])[] {
  const reach = 0.5 * (run === 'along' ? plan.field_mm.across : plan.field_mm.along)
  const passed = plan.lanes
    .filter((lane) => lane.over === strip.name && lane.run === run)
    .flatMap((lane) => passedBy(lane, plan, reach))
    .sort((a, b) => a[0] - b[0])
  const { from_mm, to_mm } = strip
  if (from_mm === to_mm) return passed.some(([a, b]) => a <= from_mm && b >= to_mm) ? [] : [[from_mm, to_mm]]
  const gaps: (readonly [number, number])[] = []
  let at = from_mm
  for (const [from, to] of passed) {
    if (from > at + ROUNDING && at < to_mm) gaps.push([at, Math.min(from, to_mm)])
    at = Math.max(at, to)
  }
  if (at < to_mm - ROUNDING) gaps.push([at, to_mm])
  return gaps
}

/** What one group passes: a lane across the weld passes from its beginning to its end; one along, its field. */
function passedBy(lane: Lane, plan: WeldPlan, reach: number): readonly (readonly [number, number])[] {
  const [from, to] = [Math.min(lane.from_mm, lane.to_mm), Math.max(lane.from_mm, lane.to_mm)]
  if (lane.run === 'across') return [[from, to]]
  const most = STEP_SHARE * plan.field_mm.across
  if (from === to || (lane.step_mm !== undefined && lane.step_mm > 0 && lane.step_mm <= most + ROUNDING))
    return [[from - reach, to + reach]]
  const step = lane.step_mm ?? to - from
  const runs = step > 0 ? Math.floor((to - from) / step) + 1 : 1
  return Array.from({ length: runs }, (_, k) => [from + k * step - reach, from + k * step + reach] as const)
}

/** Groups whose neighboring runs lie farther apart than half of the field, and how far they may. */
export function wideSteps(plan: WeldPlan): readonly { readonly lane: Lane; readonly most_mm: number }[] {
  return plan.lanes.flatMap((lane) => {
    const most_mm = STEP_SHARE * (lane.run === 'along' ? plan.field_mm.across : plan.field_mm.along)
    const isOne = lane.run === 'along' && lane.from_mm === lane.to_mm
    if (isOne) return []
    return lane.step_mm !== undefined && lane.step_mm <= most_mm + ROUNDING ? [] : [{ lane, most_mm }]
  })
}

/** What of a zone is not examined, in words: lanes that were not run, and places out of reach. */
export function lanesNotExamined(plan: WeldPlan, run: readonly string[]): readonly string[] {
  const done = new Set(run)
  return plan.lanes.flatMap((lane) => [
    ...(done.has(lane.id) ? [] : [`lane ${lane.id} over ${lane.over}: not run`]),
    ...(done.has(lane.id) ? (lane.out_of_reach ?? []) : []).map(
      ({ from_mm, to_mm, why }) => `lane ${lane.id} over ${lane.over}, ${from_mm} to ${to_mm} mm: out of reach, ${why}`
    )
  ])
}
