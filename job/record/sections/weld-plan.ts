import { svg } from '@trueloop/ground/picture'
import { checkWeldPlan, laneDrawing, lanesNotExamined, type WeldPlan } from '../../plan/index.ts'
import { type Block, cells, list, paragraph, tableOr } from '../blocks.ts'
import { sentenceCase, signed } from '../print.ts'
import type { ReportInput, Section } from '../report-input.ts'

/** What of a weld was to be run over, which way, and under which coating: by the technique. */
export const weldPlanSection: Section = {
  title: 'Weld plan',
  isAsked: (input) => planOf(input) !== undefined,
  blocks: (input) => {
    const plan = planOf(input)
    if (plan === undefined) return []
    const drawing = laneDrawing(plan)
    return [
      paragraph(factsOf(plan)),
      { block: 'figure', svg: svg(drawing), alt: drawing.description, caption: 'Lanes', width: 'whole' },
      tableOr({ caption: 'Lanes', columns, rows: plan.lanes.map(laneRow) }, 'No lane is planned.')
    ]
  }
}

export const planOf = ({ technique }: ReportInput): WeldPlan | undefined =>
  technique?.document.application === 'weld' ? technique.document.plan : undefined

function factsOf({ joint, length_mm, thickness_mm, cap_mm, parent_mm, coating, flaw_directions }: WeldPlan): string {
  const over = coating.kind === 'none' ? 'no coating' : `${coating.kind} of at most ${coating.thickness_mm} mm`
  const sought = flaw_directions.map((one) => (one === 'any' ? 'in any direction' : `${one} the weld`)).join(' and ')
  return `A ${joint} weld of ${length_mm} mm in plate of ${thickness_mm} mm, under ${over}. Zone: cap of ${cap_mm} mm, both toes, ${parent_mm} mm of parent metal on each side. Flaws sought: ${sought}. A lane counts as run where a track of its name was examined.`
}

const columns = [
  { label: 'Lane' },
  { label: 'Over' },
  { label: 'Run' },
  { label: 'Direction of the probe', figures: true },
  { label: 'Across from', figures: true },
  { label: 'To', figures: true },
  { label: 'Step', figures: true }
]

const laneRow = ({ id, over, run, probe_deg, from_mm, to_mm, step_mm }: WeldPlan['lanes'][number]) =>
  cells(
    ...[id, over, `${run} the weld`, `${probe_deg}°`, signed(`${from_mm} mm`), signed(`${to_mm} mm`)],
    ...[step_mm === undefined ? 'one run' : `${step_mm} mm`]
  )

/** What the plan leaves out, and what of it was not run: none of it is examined. */
export function leftOutOfPlan(input: ReportInput): readonly Block[] {
  const plan = planOf(input)
  if (plan === undefined) return []
  const isRun = ({ latest }: (typeof input.state.places)[number]) =>
    latest?.zones.some(({ state }) => state === 'examined') === true
  const run = input.state.places.filter(isRun).map(({ place }) => place.name)
  const lines = [...checkWeldPlan(plan).leftOut, ...lanesNotExamined(plan, run)]
  if (lines.length === 0) return []
  return [
    paragraph('Of the weld, by its plan and as it was run:'),
    list(lines.map((one) => `${sentenceCase(one)}. Not examined.`))
  ]
}
