import type { Refusal } from '@trueloop/ground/refusal'
import type { ResponseRatio, ResponseStudy } from '../plan/index.ts'
import { type Code, refuse } from './codes.ts'

/** Documents of how cracks answer: whether they hold for a flaw that was met. */

/** What a document must fit. */
export interface Setup {
  readonly metal: string
  readonly frequency_kHz: number
  /** as the document names it, for instance the arrangement of the pick-ups */
  readonly probe_type: string
}

export interface Met {
  readonly setup: Setup
  /** kinds that the flaw may be of: both near a face */
  readonly kinds: readonly ('corner' | 'mid-bore')[]
  /** absent before a depth is known */
  readonly depth_mm?: number
}

type Document = Pick<
  ResponseRatio | ResponseStudy,
  'name' | 'kinds' | 'metal' | 'frequency_kHz' | 'probe_type' | 'depth_mm'
>

/** Why a response ratio is not applied; undefined where it holds. */
export const ratioAgainst = (ratio: ResponseRatio, met: Met): Refusal | undefined =>
  against(ratio, met, { code: 'evaluate/ratio-out-of-range', what: 'response ratio' })

/** Why a response study is not applied; undefined where it holds. */
export const studyAgainst = (study: ResponseStudy, met: Met): Refusal | undefined =>
  against(study, met, { code: 'evaluate/study-out-of-range', what: 'response study' })

function against(
  document: Document,
  met: Met,
  { code, what }: { readonly code: Code; readonly what: string }
): Refusal | undefined {
  const [found, needed] = difference(document, met) ?? []
  if (found === undefined || needed === undefined) return undefined
  return refuse(code, {
    found: `${found}, where the ${what} "${document.name}" is for ${needed}`,
    needed: `a ${what} found on cracks like this, with this set-up`,
    remedy: 'the size stays notch-equivalent; have a ratio approved that covers this case'
  })
}

function difference(
  { metal, frequency_kHz, probe_type, kinds, depth_mm }: Document,
  { setup, ...met }: Met
): readonly [string, string] | undefined {
  if (setup.metal !== metal) return [`metal ${setup.metal}`, metal]
  if (setup.probe_type !== probe_type) return [`probe type ${setup.probe_type}`, probe_type]
  if (!inside(setup.frequency_kHz, frequency_kHz)) return [`${setup.frequency_kHz} kHz`, between(frequency_kHz, 'kHz')]
  const foreign = met.kinds.find((kind) => !kinds.includes(kind))
  if (foreign !== undefined) return [`a flaw that may be ${foreign}`, kinds.join(' and ')]
  if (met.depth_mm !== undefined && !inside(met.depth_mm, depth_mm))
    return [`a depth of ${met.depth_mm.toFixed(2)} mm`, between(depth_mm, 'mm')]
  return undefined
}

interface Range {
  readonly least: number
  readonly most: number
}

const inside = (value: number, { least, most }: Range): boolean => value >= least && value <= most
const between = ({ least, most }: Range, unit: string): string => `${least} to ${most} ${unit}`
