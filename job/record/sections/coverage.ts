import type { Examination } from '../../examine/index.ts'
import { type Block, cells, paragraph, tableOr, withoutRepeats } from '../blocks.ts'
import { boreFigure } from '../figures/bore.ts'
import { examinationOf } from '../lookups.ts'
import { amplitude, count, covered, mm, sentenceCase } from '../print.ts'
import type { ReportInput, Section } from '../report-input.ts'
import type { ExaminationState, PlaceState } from '../state.ts'

/** What was covered, how that is known, and what of the recordings was not used. */
export const coverage: Section = {
  title: 'Coverage',
  blocks: (input) => {
    const all = input.state.places.flatMap((place) => place.examinations.map((one) => ({ place, one, input })))
    if (all.length === 0) return [paragraph('Nothing has been examined.'), nothingUnusual]
    return [zones(all), ...gaps(all), ...noise(all), ...contact(all), drops(all), notes(all)]
  }
}

interface Looked {
  readonly input: ReportInput
  readonly place: PlaceState
  readonly one: ExaminationState
}

const known = (all: readonly Looked[]) =>
  all.flatMap(({ input, place, one }) => {
    const examination = examinationOf(input, one)
    return examination === undefined
      ? []
      : [{ place: place.place, name: place.place.name, file: one.file, examination }]
  })

const zones = (all: readonly Looked[]): Block =>
  tableOr(
    {
      caption: 'Coverage by zone',
      columns: [
        { label: 'Place' },
        { label: 'Recording' },
        { label: 'Zone' },
        { label: 'From', figures: true },
        { label: 'To', figures: true },
        { label: 'Coverage', figures: true },
        { label: 'State' },
        { label: 'Signal-to-noise', figures: true }
      ],
      rows: known(all).flatMap(({ name, file, examination }) =>
        runsOf(examination.zones).map((run) => cells(name, file, ...zoneCells(run)))
      )
    },
    'No zones: the position is unknown.'
  )

type Zones = Examination['zones']

/** Zones in a row that were examined whole stand in one line; what has a gap stands alone. */
function runsOf(zones: Zones): readonly Zones[] {
  const runs: ZoneResult[][] = []
  for (const zone of zones) {
    const last = runs.at(-1)
    if (isWhole(zone) && last !== undefined && isWhole(last[0]!)) last.push(zone)
    else runs.push([zone])
  }
  return runs
}

type ZoneResult = Zones[number]

const isWhole = ({ state, covered: share }: ZoneResult): boolean => state === 'examined' && share >= 1

function zoneCells(run: Zones): readonly string[] {
  const [first, last] = [run[0]!, run.at(-1)!]
  const name = run.length === 1 ? first.zone : `${first.zone} to ${last.zone} (${count(run.length, 'zone')})`
  return [name, mm(first.z0_m), mm(last.z1_m), covered(first.covered), first.state, ratios(run)]
}

/** The least and the greatest, or that one is not known: a good zone may not hide a noisy one. */
function ratios(run: Zones): string {
  const all = run.map(({ signalToNoise = Number.NaN }) => signalToNoise)
  const texts = [Math.min(...all), Math.max(...all)].map((value) =>
    Number.isNaN(value) ? 'unknown' : value.toFixed(1)
  )
  return [...new Set(texts)].join(' to ')
}

/** The wall of every hole with a gap: where the gap lies, and what was seen around it. Holes with a finding are drawn there. */
const gaps = (all: readonly Looked[]): readonly Block[] =>
  known(all).flatMap(({ place, file, examination }) => {
    const isWhole = examination.zones.every(({ state }) => state === 'examined')
    const isDrawn = examination.indications.length > 0 || examination.application !== 'fastener hole'
    const svg = isWhole || isDrawn ? undefined : boreFigure(examination, place)
    if (svg === undefined) return []
    const alt = `Wall of hole ${place.name} unrolled; the zones that were not examined are hatched.`
    return [{ block: 'figure', svg, alt, caption: `Unrolled bore of hole ${place.name}, ${file}`, width: 'whole' }]
  })

const noise = (all: readonly Looked[]): readonly Block[] =>
  withoutRepeats(
    {
      caption: 'Noise and false calls',
      columns: [
        { label: 'Place' },
        { label: 'Recording' },
        { label: 'Readings', figures: true },
        { label: 'Noise', figures: true },
        { label: 'Threshold', figures: true },
        { label: 'Alarm level', figures: true },
        { label: 'False calls per place', figures: true },
        { label: 'How known' }
      ],
      rows: known(all).flatMap(({ name, file, examination }) => {
        const { noise: met, amplitudeUnit: unit } = examination
        if (met === undefined) return []
        const levels = [met.matched, met.threshold, met.alarm].map((level) => amplitude(level, unit))
        return [cells(name, file, String(examination.coverage.samples), ...levels, ...falseCalls(met.falseCalls))]
      })
    },
    2,
    'The noise is not in the record.'
  )

/** A rate of false calls would be shown by 100 of them: by so many places without a flaw that nobody has scanned. */
function falseCalls(rate: number | undefined): readonly string[] {
  if (rate === undefined) return ['not stated', 'not stated']
  const least = rate > 0 ? `fewer than ${Math.ceil(100 / rate)} places without a flaw were seen` : 'too few were seen'
  return [rate.toPrecision(2), `modelled, not shown: ${least}`]
}

/** One column a check, what was needed in its head where that is the same for all scans. What is not met says so. */
function contact(all: readonly Looked[]): readonly Block[] {
  const scans = known(all).map(({ name, file, examination }) => ({ name, file, checks: examination.coverage.contact }))
  const every = scans.flatMap(({ checks }) => checks)
  const columns = [...new Set(every.map(({ check }) => check))].map((check) => {
    const needed = [...new Set(every.filter((one) => one.check === check).map((one) => one.needed))]
    return { check, needed: needed.length === 1 ? needed[0] : undefined }
  })
  const rows = scans.map(({ name, file, checks }) =>
    cells(
      name,
      file,
      ...columns.map((column) =>
        shown(
          checks.filter(({ check }) => check === column.check),
          column
        )
      )
    )
  )
  const heads = columns.map(({ check, needed }) => (needed === undefined ? check : `${check}: ${needed}`))
  const caption = 'Probe in the metal: how it is shown'
  const labels = ['Place', 'Recording', ...heads.map(sentenceCase)].map((label) => ({ label }))
  return columns.length === 0
    ? [paragraph('No proof of contact is in the record.')]
    : withoutRepeats({ caption, columns: labels, rows }, 2, 'No proof of contact is in the record.')
}

type Check = Examination['coverage']['contact'][number]

const shown = (checks: readonly Check[], { needed }: { readonly needed: string | undefined }): string =>
  checks.length === 0
    ? 'not looked at'
    : checks
        .map(
          (one) => `${one.found}${needed === undefined ? `, needed ${one.needed}` : ''}${one.met ? '' : ': NOT met'}`
        )
        .join('; ')

const drops = (all: readonly Looked[]): Block =>
  tableOr(
    {
      caption: 'Drop log: what of the recordings was not used',
      columns: [
        { label: 'Place' },
        { label: 'Recording' },
        { label: 'From', figures: true },
        { label: 'To', figures: true },
        { label: 'Unit' },
        { label: 'Number', figures: true },
        { label: 'Reason' }
      ],
      rows: known(all).flatMap(({ name, file, examination }) =>
        examination.dropped.map((drop) => [...cells(name, file), ...dropCells(drop)])
      )
    },
    'Nothing was dropped.'
  )

const dropCells = ({ from, to, unit, samples, reason }: Examination['dropped'][number]) => {
  const digits = unit === 'sample' ? 0 : 2
  return cells(from.toFixed(digits), to.toFixed(digits), unit, String(samples), reason)
}

const nothingUnusual: Block = paragraph('Unusual features: not stated.')

const notes = (all: readonly Looked[]): Block => {
  const rows = known(all).flatMap(({ name, file, examination }) =>
    examination.notes.map((note) => cells(name, file, note))
  )
  const columns = ['Place', 'Recording', 'Note'].map((label) => ({ label }))
  return rows.length === 0 ? nothingUnusual : { block: 'table', caption: 'Unusual features', columns, rows }
}
