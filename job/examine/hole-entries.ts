import type { Evidence, Interpreted, Sheet } from '../interpret/index.ts'
import { UNIT } from '../signal/index.ts'
import type { Stretch } from './along.ts'
import type { Located } from './hole-input.ts'
import { runningOn } from './hole-layers.ts'
import { type Sighting, sightedOnce } from './hole-sightings.ts'
import { spanOf } from './hole-twins.ts'
import type { Depths } from './strokes.ts'

/** What enters the examination as one indication: a place with its bounds along the axis. */
export interface Entry {
  /** with the number of its layer, its class and its evidence as they stand in the end */
  readonly one: Interpreted
  /** ruler points between which it stays at half its peak or more */
  readonly span: Stretch
  /** bounds along the axis; absent where nothing is known of the place */
  readonly depths: Depths | undefined
}

export interface Entering {
  readonly sheet: Sheet
  readonly place: Located | undefined
  /** number of layers of the hole */
  readonly layers: number
  /** revolutions that pass over one width of the field, and distance of the lobes, ruler points */
  readonly perWidth: number
  readonly spacing: number
  /** revolutions between the two maxima of a short flaw at mid-bore; absent where it has but one */
  readonly twin: number | undefined
}

/** Number by which interpretation tells layers apart, in every pass by itself: nothing is joined across a joint or a turn. */
export const cellAt = ({ along }: Located, layers: number): ((point: number) => number) => {
  return (point) => along.passAt(point) * layers + along.layerAt(point)
}

/**
 * Indications from what interpretation kept: one a layer, a flaw with two maxima along the axis as one, and where the probe
 * passed twice, what both strokes met as one.
 */
export function entriesOf(kept: readonly Interpreted[], entering: Entering): readonly Entry[] {
  const { place, sheet, twin, layers } = entering
  if (place === undefined)
    return kept.map((one) => ({ one, span: spanOf(one, { sheet, twin }).span, depths: undefined }))
  const { along } = place
  const inHole = kept.filter(({ at }) => along.isNear(at))
  const each = runningOn(inHole, { ...entering, cell: cellAt(place, layers) })
  const sightings = each.map((one): Sighting => {
    const { span, apart } = spanOf(one, { sheet, twin })
    const depths = along.between(span.from, span.to, one.at)
    const two = apart === undefined ? [] : [twoMaxima(apart, along)]
    const pass = Math.floor(one.layer / layers)
    return { one: { ...one, layer: one.layer % layers, evidence: [...two, ...one.evidence] }, span, depths, pass }
  })
  return along.scale === undefined ? sightedOnce(sightings) : sightings
}

/** Both maxima of one short flaw are kept, with how far they lie apart. */
function twoMaxima(apart: Stretch, { scale }: Located['along']): Evidence {
  const turns = (apart.to - apart.from) / UNIT
  const far =
    scale === undefined
      ? `${turns.toFixed(1)} revolutions`
      : `${(1e3 * Math.abs(scale.at(apart.to) - scale.at(apart.from))).toFixed(2)} mm`
  const [a, b] = [apart.from, apart.to].map((point) => (point / UNIT).toFixed(2))
  return {
    what: 'two maxima',
    sentence: `Two maxima ${far} apart along the axis, at revolutions ${a} and ${b}, as the mid-bore notch has them: one flaw, both kept.`,
    speaks: 'neither'
  }
}
