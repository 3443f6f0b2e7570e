import { type ClassedHole, classTable, type TrialPart } from '../../../job/rehearse/index.ts'
import { examinedHoles, notExaminedWhy, spotOf, standardized } from './examine.ts'
import { tableOf } from './numbers.ts'

/** One hole of the classing trial: what is there, and what was indicated as what. */
export interface ClassingRow {
  readonly setup: string
  readonly hole: string
  readonly truth?: ClassedHole['truth']
  readonly indications: readonly (ClassedHole['indications'][number] & { readonly cause?: string })[]
  readonly notExamined?: readonly string[]
}

export function* classingRows(part: TrialPart): Generator<ClassingRow> {
  const under = standardized(part)
  const setup = part.setup.id
  if (typeof under === 'string') {
    yield { setup, hole: 'reference', indications: [], notExamined: [under] }
    return
  }
  for (const one of examinedHoles(under)) {
    const { flaws, nuisances } = one.hole.truth
    const why = notExaminedWhy(one)
    yield {
      ...{ setup, hole: one.hole.id, truth: { flaws, nuisances } },
      indications: (one.examination?.indications ?? []).map((each) => ({
        class: each.class,
        ...spotOf(each),
        ...(each.cause === undefined ? {} : { cause: each.cause })
      })),
      ...(why.length > 0 ? { notExamined: why } : {})
    }
  }
}

const classes = ['relevant', 'undecided', 'damage, not a crack', 'nonrelevant', 'false'] as const

/** True kind × class, and the same by the cause that was named. No figure of it is a limit: it is printed to be read. */
export function classingFigures(rows: readonly ClassingRow[]) {
  const holes = rows.flatMap(({ truth, indications }) => (truth === undefined ? [] : [{ truth, indications }]))
  const byCause = holes.map(({ truth, indications }) => ({
    truth,
    indications: indications.map((one) => ({ ...one, class: one.cause ?? 'not named' }))
  }))
  return {
    ok: holes.length > 0,
    holes: holes.length,
    table: classTable(holes),
    causes: classTable(byCause),
    notExamined: rows.flatMap(({ hole, notExamined }) => (notExamined ? [`${hole}: ${notExamined.join('; ')}`] : []))
  }
}

type Figures = ReturnType<typeof classingFigures>

export const classingTable = ({ table, notExamined }: Figures): readonly string[] => [
  ...tableOf(
    ['what is there', 'of them', ...classes, 'not indicated'],
    table.map(({ kind, count, notIndicated, classes: of }) => [
      ...[kind, count],
      ...classes.map((name) => of[name] ?? 0),
      notIndicated
    ])
  ),
  ...notExamined
]
