import type { HoleSheet } from './sheet.ts'

/** What a scan is taken with to confirm, where that is not the first set-up of the technique. */
export type OtherSetUp = NonNullable<Extract<HoleSheet['recordings'][number], { of: 'reference' }>['set_up']>

/** The set-up that goes with what was done otherwise for a scan. Cleaning alters none. */
export const setUpAfter = (after: OtherSetUp | 'cleaned and entered again' | undefined): OtherSetUp | undefined =>
  after === 'cleaned and entered again' ? undefined : after

/** What a recording is taken with, where that is not the first set-up of the technique. */
export const setUpOfRecording = (one: HoleSheet['recordings'][number]): OtherSetUp | undefined =>
  one.of === 'hole' ? setUpAfter(one.after) : one.set_up

/**
 * The sheet as it holds for a set-up: a reversed scan meets the notches of the standard in the other order round the
 * hole, and the second frequency stands in the place of the first. What the technique says of the fit of its probe holds for
 * no second one. Depths stay: they count from the entry face.
 */
export function sheetFor(sheet: HoleSheet, setUp: OtherSetUp | undefined): HoleSheet {
  const { technique, reference_standard: standard } = sheet
  if (setUp === 'second frequency') {
    const { second_frequency_kHz: second } = technique
    if (second === undefined) throw new Error('a second frequency that the technique does not have')
    return { ...sheet, technique: { ...technique, frequency_kHz: second } }
  }
  if (setUp === 'second probe') return { ...sheet, technique: withoutFit(technique) }
  if (setUp !== 'other sense') return sheet
  const notches = standard.notches.map((notch) => ({ ...notch, angle_deg: (360 - notch.angle_deg) % 360 }))
  return { ...sheet, reference_standard: { ...standard, notches } }
}

/** The same technique where it says nothing of the fit: a hole that is measured too wide is then not examined. */
function withoutFit(technique: HoleSheet['technique']): HoleSheet['technique'] {
  if (technique.probe === undefined && technique.oversize === undefined) return technique
  const { probe: _probe, oversize: _oversize, ...rest } = technique
  return rest
}
