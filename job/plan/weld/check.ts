import type { Refusal } from '@trueloop/ground/refusal'
import { refuse } from '../codes.ts'
import { gapsIn, stripsOf, wideSteps } from './lanes.ts'
import type { Lane, WeldPlan } from './schema.ts'

/** Largest coating of a procedure through paint, mm: EN 1711 by memory, a field procedure repeats it. */
const MOST_COATING_MM = 2
const CONDUCTIVE: readonly WeldPlan['coating']['kind'][] = ['galvanized', 'metallized', 'metal-filled paint']

export interface WeldPlanning {
  readonly refusals: readonly Refusal[]
  /** what the plan leaves out, said and not refused: directions, and strips or parts of them */
  readonly leftOut: readonly string[]
}

/**
 * Looks a weld plan over. Refuses `plan/coating-conducts`, `plan/coating-too-thick`, `plan/lanes-too-far-apart`. What no lane
 * passes, and flaw directions that no run finds, are named: they are not examined, and the report says so.
 */
export function checkWeldPlan(plan: WeldPlan): WeldPlanning {
  return {
    refusals: [...coatingRefused(plan), ...wideSteps(plan).map(({ lane, most_mm }) => tooFar(lane, most_mm))],
    leftOut: [...stripsLeftOut(plan), ...directionsLeftOut(plan)]
  }
}

function coatingRefused({ coating }: WeldPlan): readonly Refusal[] {
  const conducts = CONDUCTIVE.includes(coating.kind) && coating.on_reference !== true
  return [
    ...(conducts ? [coatingConducts(coating.kind)] : []),
    ...(coating.thickness_mm > MOST_COATING_MM ? [coatingTooThick(coating.thickness_mm)] : [])
  ]
}

/** Runs that a direction of flaw asks for: a flaw answers most when the probe crosses its ends along it, or across. */
const WANTED: Readonly<Record<WeldPlan['flaw_directions'][number], readonly Lane['run'][]>> = {
  along: ['along'],
  across: ['across'],
  any: ['along', 'across']
}

const wantedRuns = ({ flaw_directions }: WeldPlan): readonly Lane['run'][] => [
  ...new Set(flaw_directions.flatMap((direction) => WANTED[direction]))
]

function stripsLeftOut(plan: WeldPlan): readonly string[] {
  return stripsOf(plan).flatMap((strip) => {
    const runs = wantedRuns(plan).filter((run) =>
      plan.lanes.some((lane) => lane.over === strip.name && lane.run === run)
    )
    if (runs.length === 0) return [`${strip.name}: no lane`]
    return runs.flatMap((run) =>
      gapsIn(strip, plan, run).map(
        ([from, to]) =>
          `${strip.name}, runs ${run} the weld: ${from.toFixed(1)} to ${to.toFixed(1)} mm from the middle not passed`
      )
    )
  })
}

/** Directions that a strip is not examined for; two runs at right angles are least sensitive half way between. */
function directionsLeftOut(plan: WeldPlan): readonly string[] {
  return stripsOf(plan).flatMap(({ name }) => {
    const lanes = plan.lanes.filter(({ over }) => over === name)
    if (lanes.length === 0) return []
    const missing = wantedRuns(plan).filter((run) => !lanes.some((lane) => lane.run === run))
    const both = lanes.some(({ run }) => run === 'along') && lanes.some(({ run }) => run === 'across')
    const turned = lanes.some(({ probe_deg }) => isNear45(probe_deg))
    const oblique = plan.flaw_directions.includes('any') && !turned
    return [
      ...missing.map((run) => `${name}: flaws ${run} the weld are not sought, no run goes ${run} it`),
      ...(oblique ? [`${name}: flaws near 45° to the runs ${both ? 'answer least' : 'are not sought'}`] : [])
    ]
  })
}

const isNear45 = (deg: number): boolean => {
  const within = deg - 90 * Math.floor(deg / 90)
  return Math.abs(within - 45) <= 15
}

/** Samples that a field has to have, so that the peak of a pulse is met. Common practice, no source. */
const SAMPLES_A_FIELD = 10
/** Cycles a field that the low pass of a track lets through: three times the 3 dB corner of a bell, 0.312. */
const CYCLES_A_FIELD = 3 * 0.312

/** Largest speed along a track, mm/s: ten samples a field, and the filters of the instrument beyond what a flaw needs. */
export function weldSpeedLimit({
  rate_Hz,
  field_mm,
  lowPass_Hz
}: {
  readonly rate_Hz: number
  readonly field_mm: number
  readonly lowPass_Hz?: number
}): { readonly most_mm_s: number; readonly by: 'sampling' | 'filter' } {
  const sampling = (rate_Hz * field_mm) / SAMPLES_A_FIELD
  const filter = lowPass_Hz === undefined ? Number.POSITIVE_INFINITY : (lowPass_Hz * field_mm) / CYCLES_A_FIELD
  return filter < sampling ? { most_mm_s: filter, by: 'filter' } : { most_mm_s: sampling, by: 'sampling' }
}

const coatingConducts = (kind: string) =>
  refuse('plan/coating-conducts', {
    found: `a coating that conducts: ${kind}`,
    needed: 'one that does not, or a reference block that carries the same',
    remedy: 'take the coating off, or make a reference block with it'
  })

const coatingTooThick = (mm: number) =>
  refuse('plan/coating-too-thick', {
    found: `a coating of up to ${mm.toFixed(1)} mm`,
    needed: `at most ${MOST_COATING_MM.toFixed(1)} mm`,
    remedy: 'take the coating off, or name the thick places as not examined'
  })

const tooFar = ({ id, step_mm }: Lane, most: number) =>
  refuse('plan/lanes-too-far-apart', {
    found: `lanes ${id}, ${step_mm === undefined ? 'without a step' : `${step_mm.toFixed(1)} mm apart`}`,
    needed: `neighboring runs at most ${most.toFixed(1)} mm apart, half of the field`,
    remedy: 'state a smaller step, or take a probe with a wider field'
  })
