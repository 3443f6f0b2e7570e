import type { Examination } from '../../examine/index.ts'
import { type Block, cells, paragraph, tableOr } from '../blocks.ts'
import { trackFigure } from '../figures/track.ts'
import { examinationOf, namesOf } from '../lookups.ts'
import { deg, mm, notStated, percent } from '../print.ts'
import type { Section } from '../report-input.ts'
import type { PlaceState } from '../state.ts'

/** Every track with its datum, coating, findings and what was not examined; then the coating in figures. */
export const weldMap: Section = {
  title: 'Weld map',
  isAsked: ({ state }) => state.opened.application === 'weld',
  blocks: (input) => {
    const scanned = input.state.places.flatMap((place) => {
      const latest = place.latest === undefined ? undefined : examinationOf(input, place.latest)
      return latest === undefined ? [] : [{ place, examination: latest }]
    })
    const without = input.state.places.filter((place) => !scanned.some((one) => one.place === place))
    return [
      paragraph(
        'Positions count from the start of each track, its datum. Filled: relevant; half: undecided; outlined: of another class. Hatched: not examined. The line is the apparent coating: permeability answers in it too.'
      ),
      ...(without.length === 0 ? [] : [paragraph(`No examination stands, and none is drawn: ${namesOf(without)}.`)]),
      ...scanned.map(figure),
      coatings(scanned)
    ]
  }
}

interface Scanned {
  readonly place: PlaceState
  readonly examination: Examination
}

const lengthOf = ({ place: { place }, examination: { zones } }: Scanned): number =>
  place.length_mm ?? Math.max(1, ...zones.map(({ z1_m }) => 1e3 * z1_m))

function figure(one: Scanned): Block {
  const { name } = one.place.place
  const { state } = one.place
  const indications = one.examination.indications.length
  const gaps = one.examination.zones.filter((zone) => zone.state === 'not examined').length
  return {
    block: 'figure',
    svg: trackFigure(one.examination, lengthOf(one)),
    alt: `Track ${name}, ${state}: ${indications} indications, ${gaps} stretches not examined`,
    caption: `Track ${name}: ${state}`,
    width: 'whole'
  }
}

function coatings(scanned: readonly Scanned[]): Block {
  const columns = [
    { label: 'Track' },
    { label: 'Coating from' },
    { label: 'Least', figures: true },
    { label: 'Median', figures: true },
    { label: 'Greatest', figures: true },
    { label: 'Above the shims', figures: true },
    { label: 'Beside it, on parent metal', figures: true },
    { label: 'Lift-off from the block', figures: true }
  ]
  return tableOr({ caption: 'Coating', columns, rows: scanned.map(coatingRow) }, 'No track was scanned.')
}

function coatingRow({ place, examination: { coating } }: Scanned) {
  const { name } = place.place
  if (coating === undefined) return cells(name, notStated, '–', '–', '–', '–', '–', '–')
  const { apparent, given_mm, parent, parentWhy } = coating
  const told = (value: number | undefined): string => (value === undefined ? '–' : mm(1e-3 * value))
  const basis = { measured: 'absolute channel', given: 'stated by a person', unknown: 'nothing' }[coating.basis]
  const beside = parent?.coating
  return cells(
    ...[name, basis, told(apparent?.least_mm), told(apparent?.median_mm ?? given_mm), told(apparent?.greatest_mm)],
    ...[apparent === undefined ? '–' : percent(apparent.aboveShims)],
    ...[beside === undefined ? parentWhy : `${told(beside.least_mm)} to ${told(beside.greatest_mm)}`],
    ...[parent === undefined ? '–' : deg(parent.liftOff.off_rad, 1)]
  )
}
