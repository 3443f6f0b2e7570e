import { isRefusal, located, type Result } from '@trueloop/ground/refusal'
import { equipmentWith, type WeldSheet } from '@trueloop/job/plan'
import type { PlaceBasis } from '@trueloop/job/signal'
import {
  openParent,
  openShimRun,
  type ParentReading,
  type ShimReading,
  type Standardization,
  type Standardized,
  standardizeWeld
} from '@trueloop/job/standardize'
import type { Kept } from './keep.ts'
import { feed, type Listening } from './reading.ts'
import { meters } from './units.ts'

/** Blocks for welds under their shims, and flat parent metal beside a track. */

type Stated = Kept['facts']['position']

/** How places along the track are known, as the chain takes it. */
export const placesOf = (position: Stated): { readonly places?: PlaceBasis } => {
  if (position === undefined) return {}
  if (position.by === 'encoder') return { places: position }
  if (position.by === 'speed') return { places: { by: 'speed', speed_m_s: meters(position.speed_mm_s) } }
  return { places: { by: 'marks', at_m: position.at_mm.map(meters), level: position.level } }
}

const isBlock = (kept: Kept | undefined): boolean =>
  kept !== undefined && kept.facts.of.of === 'reference' && kept.facts.shim_mm !== undefined

/**
 * The runs over a block that end with this one: those under shims that follow one another are one set. Undefined while
 * more of the set are to come.
 */
export function setOf(all: readonly Kept[], kept: Kept): readonly Kept[] | undefined {
  if (!isBlock(kept)) return [kept]
  const at = all.indexOf(kept)
  if (isBlock(all[at + 1])) return undefined
  let from = at
  while (isBlock(all[from - 1])) from--
  return all.slice(from, at + 1)
}

/** Reads all runs of a set, and makes one standardization of them. A run that is refused is named by its file. */
export async function readBlock(
  sheet: WeldSheet,
  set: readonly Kept[],
  listening: (kept: Kept) => Omit<Listening, 'take'>
): Promise<Result<Standardized>> {
  const readings: ShimReading[] = []
  const warnings: string[] = []
  for (const kept of set) {
    const run = openShimRun({ ...inputOf(sheet, kept), shim_mm: kept.facts.shim_mm ?? 0 })
    const scan = await feed(kept.reading, { ...listening(kept), take: (segment) => run.take(segment) })
    const read = isRefusal(scan) ? scan : run.close()
    if (isRefusal(read)) return located(read, { file: kept.recording.file })
    readings.push(read)
    if (!isRefusal(scan)) warnings.push(...scan.warnings)
  }
  const [first] = set
  if (first === undefined) throw new Error('a block of no runs')
  const made = standardizeWeld(inputOf(sheet, first), readings)
  return isRefusal(made) ? made : { ...made, notes: [...made.notes, ...warnings] }
}

const inputOf = (sheet: WeldSheet, { reading, recording, facts }: Kept) => ({
  technique: sheet.technique,
  standard: sheet.reference_standard,
  equipment: equipmentWith(sheet.equipment, recording.equipment),
  rate_Hz: reading.rate_Hz,
  ...placesOf(facts.position)
})

/** Parent metal beside a track, by the content of its recording: read, or why it could not be. */
export interface Parent {
  readonly recording: string
  readonly reading: Result<ParentReading>
}

export async function readParent(
  sheet: WeldSheet,
  standardization: Standardization,
  {
    sha256: recording,
    reading,
    facts
  }: Pick<Kept, 'sha256' | 'reading'> & { readonly facts: Pick<Kept['facts'], 'position'> },
  listening: Omit<Listening, 'take'> = {}
): Promise<Parent> {
  const { rate_Hz } = reading
  const { technique } = sheet
  const run = openParent({ technique, standardization, rate_Hz, recording, ...placesOf(facts.position) })
  const scan = await feed(reading, { ...listening, take: (segment) => run.take(segment) })
  return { recording, reading: isRefusal(scan) ? scan : run.close() }
}
