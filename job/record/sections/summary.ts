import type { Examination } from '../../examine/index.ts'
import { type Block, cells } from '../blocks.ts'
import { examinationOf } from '../lookups.ts'
import { missingShare } from '../place.ts'
import { count } from '../print.ts'
import type { ReportInput, Section } from '../report-input.ts'
import type { PlaceState } from '../state.ts'
import { byState } from '../states.ts'
import { classOf, waits } from '../waiting.ts'
import { symbolCell } from './cells.ts'

/** One line a place, in the order of the job sheet, and how many places are in which state. */
export const summary: Section = {
  title: 'Results',
  blocks: (input) => [counts(input), table(input)]
}

function counts({ state }: ReportInput): Block {
  return {
    block: 'table',
    caption: 'States',
    columns: [{ label: 'State' }, { label: 'Number', figures: true }],
    rows: byState(state).map((some) => [
      { ...symbolCell(some[0]!), text: some[0]!.state },
      { text: String(some.length) }
    ])
  }
}

function table(input: ReportInput): Block {
  return {
    block: 'table',
    caption: 'Results by place',
    columns: [
      { label: 'Place' },
      { label: 'State' },
      { label: 'Relevant', figures: true },
      { label: 'Undecided', figures: true },
      { label: 'Over alarm level', figures: true },
      { label: 'Result' }
    ],
    rows: input.state.places.map((place) => row(input, place))
  }
}

function row(input: ReportInput, place: PlaceState) {
  const found = place.joined
  const number = (is: (one: (typeof found)[number]) => boolean) =>
    missingShare(place) === 'all' && found.length === 0 ? '–' : String(found.filter(is).length)
  return [
    { text: place.place.name },
    symbolCell(place),
    ...cells(
      number((one) => classOf(one) === 'relevant'),
      number((one) => waits(one) && classOf(one) !== 'relevant'),
      number((one) => one.crossedAlarm),
      resultOf(input, place)
    )
  ]
}

/** What was examined, what was found, and what that could have shown. */
function resultOf(input: ReportInput, place: PlaceState): string {
  const open = place.openFromVoided.length
  const voided = open === 0 ? '' : ` Open from a voided scan: ${count(open, 'indication')}.`
  if (place.latest === undefined || missingShare(place) === 'all') return `Not examined${seen(place)}.${voided}`
  const examination = examinationOf(input, place.latest)
  const extent = examination === undefined ? 'its examination is not at hand' : extentOf(place, examination)
  const where = missingShare(place) === 'part' ? 'In these zones: ' : ''
  return `Examined: ${extent}. ${where}${foundText(place)}${openText(place)}${voided}`
}

/** Indications met in a scan that does not count stay open; without any, nothing at all is said of the place. */
function seen({ latest }: PlaceState): string {
  const all = latest?.indications.length ?? 0
  return all === 0 ? '' : `; ${count(all, 'indication')} met there, for a person to look at`
}

function extentOf({ place, latest, missing }: PlaceState, examination: Examination): string {
  if (place.of === 'loop') return `${examination.coverage.samples} samples, position unknown`
  const zones = latest?.zones.length ?? 0
  const whole = place.of === 'hole' ? 'whole wall' : 'whole track'
  const part = missing.length === 0 ? whole : `${zones - missing.length} of ${zones} zones`
  return place.of === 'hole' ? `${part}, ${revolutionsText(examination)}` : part
}

/** How many revolutions lie between the edges, and how many of them passed over examined wall. */
function revolutionsText({ position, zones, coverage }: Examination): string {
  if (position.entry === undefined || position.exit === undefined) {
    const inMetal = Math.round(coverage.revolutionsInMetal)
    return inMetal > 0 ? `${count(inMetal, 'revolution')} in metal` : 'revolutions not known'
  }
  const all = Math.max(1, Math.round(Math.abs(position.exit - position.entry)))
  const depth = zones.reduce((sum, { z0_m, z1_m }) => sum + z1_m - z0_m, 0)
  const covered = zones
    .filter(({ state }) => state === 'examined')
    .reduce((sum, zone) => sum + zone.covered * (zone.z1_m - zone.z0_m), 0)
  return `${depth > 0 ? Math.floor(all * (covered / depth) + 1e-9) : 0} of ${count(all, 'revolution')}`
}

/** Over all scans that count: one that does not see an indication does not remove it. */
function foundText({ joined }: PlaceState): string {
  const found = joined.filter(({ seen }) => seen.some(({ discounted }) => discounted === undefined))
  const relevant = found.filter((one) => one.class === 'relevant').length
  if (relevant > 0) return `${count(relevant, 'relevant indication')}, for a person to decide.`
  const other = found.length
  return other > 0
    ? `No relevant indication; ${count(other, 'other one')} for a person to look at.`
    : 'No relevant indication.'
}

const openText = ({ joined }: PlaceState): string => {
  const open = joined.filter((one) => one.open).length
  return open === 0 ? '' : ` Open: ${count(open, 'indication')}.`
}
