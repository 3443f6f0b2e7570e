import { measuredOf } from '../preparation.ts'
import type { Entered } from '../registers/index.ts'
import type { Sheet } from '../sheet.ts'
import type { Step } from '../where.ts'

/** A recording that is to be looked up, by its place in the sheet, with the day on which it was taken. */
export interface DayOfRecording {
  readonly index: number
  readonly day: string
}

/** Something or somebody that a sheet names, on a day on which it was used, with the place that names it. */
export interface Use extends Entered {
  readonly day: string
  /** what was done with it that day, for whoever reads a refusal */
  readonly for: string
  readonly steps: readonly Step[]
}

/**
 * What has to stand in the registers for these recordings: procedure, reference standard, instrument and probe and the
 * person who examines, on the day of each scan; gauges on the day on which they measured. Each once a day.
 */
export function usesOf(sheet: Sheet, recordings: readonly DayOfRecording[]): readonly Use[] {
  const all = [...recordings.flatMap((one) => usesIn(sheet, one)), ...gaugesOf(sheet, recordings)]
  const seen = new Map<string, Use>()
  for (const use of all) {
    const key = [use.what, use.day, use.name].join(' ')
    if (!seen.has(key)) seen.set(key, use)
  }
  return [...seen.values()]
}

function usesIn(sheet: Sheet, { index, day }: DayOfRecording): readonly Use[] {
  const { technique, equipment, examined_by } = sheet
  const { file, equipment: own = {} } = sheet.recordings[index]!
  const on = { day, for: `the scan ${file}` }
  const at = (key: 'instrument' | 'probe'): Use => ({
    ...{ what: key, name: own[key] ?? equipment[key], ...on },
    steps: own[key] === undefined ? ['equipment', key] : ['recordings', index, 'equipment', key]
  })
  const standard: readonly Use[] =
    'reference_standard' in sheet
      ? [
          {
            ...{ what: 'reference standard', name: sheet.reference_standard.id, ...on },
            steps: ['reference_standard', 'id']
          }
        ]
      : []
  return [
    { what: 'procedure', name: technique.procedure.id, ...on, steps: ['technique', 'procedure', 'id'] },
    { what: 'person', name: examined_by, ...on, steps: ['examined_by'] },
    ...standard,
    at('instrument'),
    at('probe')
  ]
}

/** Of the holes that these recordings are of. */
function gaugesOf(sheet: Sheet, recordings: readonly DayOfRecording[]): readonly Use[] {
  if (!('holes' in sheet)) return []
  const scanned = new Set(
    recordings.map(({ index }) => {
      const one = sheet.recordings[index]!
      return one.of === 'hole' ? one.hole : undefined
    })
  )
  return sheet.holes.flatMap(({ id, preparation }, index): readonly Use[] => {
    const measured = scanned.has(id) ? measuredOf(preparation) : undefined
    if (measured === undefined) return []
    const steps = ['holes', index, 'preparation', 'gauge']
    return [
      { what: 'gauge', name: measured.gauge, day: measured.measured.on, for: `the measuring of hole ${id}`, steps }
    ]
  })
}
