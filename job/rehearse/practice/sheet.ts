import type { HoleSheet } from '../../plan/index.ts'
import type { DemoRecording } from '../demo.ts'
import type { Staged } from './scenes.ts'

const INVENTED = 'simulated'

/** A recording with its place in the sheet. */
export interface Listed extends DemoRecording {
  readonly of: 'reference' | 'recheck' | 'hole'
  readonly hole?: string
}

/**
 * The job sheet of a practice: the technique as it is, but for the lobe spacing, which is what the field makes it; everything
 * that would point at a real job is replaced.
 */
export function practiceSheet(
  { sheet, probe, rate_Hz }: Staged,
  recordings: readonly Listed[],
  seed: number
): HoleSheet {
  const { technique, reference_standard, holes, people, examined_by, confirmed, trueloop } = sheet
  const used = new Set(recordings.map(({ hole }) => hole))
  return {
    trueloop,
    job: {
      id: `PRACTICE-${seed}-${sheet.job.id}`,
      component: `Practice (simulated) for ${technique.procedure.id}, revision ${technique.procedure.revision}`,
      place: 'nowhere: simulated recordings',
      opened: sheet.job.opened,
      demonstration: true
    },
    people: people.map((person) => ({ ...person })),
    examined_by,
    ...(confirmed === undefined ? {} : { confirmed }),
    equipment: {
      ...{ instrument: INVENTED, probe: INVENTED, cable: INVENTED },
      ...{ drive: 'unchanged for the whole practice', gain: 'unchanged for the whole practice', filters: 'none' },
      entered_by: examined_by
    },
    columns: { x: 0, y: 1, index: 2, rate_Hz },
    technique: { ...technique, lobe_spacing_mm: rounded(1000 * probe.lobe_spacing_m) },
    reference_standard: { ...reference_standard, angle_datum: 'index pulse' },
    holes: holes.filter(({ id }) => used.has(id)).map(withoutPreparation),
    recordings: recordings.map(({ of, file, hole }) => (of === 'hole' ? { of, hole: hole ?? '', file } : { of, file }))
  }
}

const rounded = (mm: number): number => Math.round(1000 * mm) / 1000

/** Nobody cleaned or measured a simulated hole. */
const withoutPreparation = ({ preparation: _, ...hole }: HoleSheet['holes'][number]): HoleSheet['holes'][number] => hole
