import type { Examination, Oversize } from '../../examine/index.ts'
import { type Block, cells, list, paragraph, tableOr } from '../blocks.ts'
import type { EntryOf } from '../kinds.ts'
import { examinationOf } from '../lookups.ts'
import { mm, percent, shortHash } from '../print.ts'
import type { ReportInput, Section } from '../report-input.ts'

/** What was done to each place before its scan, how wide its hole was found, and what that cost. */
export const preparation: Section = {
  title: 'Preparation',
  blocks: (input) => [prepared(input), ...unmeasured(input), ...oversize(input)]
}

type Prepared = EntryOf<'place-prepared'>

const preparedPlaces = ({ state }: ReportInput) =>
  state.places.flatMap(({ place, preparation: one }) => (one === undefined ? [] : [{ name: place.name, one }]))

const prepared = (input: ReportInput): Block =>
  tableOr(
    {
      caption: 'Preparation of the places',
      columns: [
        ...['Place', 'Cleaned', 'Deburred', 'Visual finding', 'Photo'].map((label) => ({ label })),
        { label: 'Largest diameter', figures: true },
        { label: 'Out-of-round', figures: true },
        { label: 'Gauge' },
        { label: 'Measured' }
      ],
      rows: preparedPlaces(input).map(({ name, one }) =>
        cells(name, doneText(one.cleaned), one.deburred, one.visual, photoText(one), ...gaugeTexts(one))
      )
    },
    'The record says of no place how it was prepared: neither cleaning nor diameter are known.'
  )

const doneText = ({ by, on }: { readonly by: string; readonly on: string }): string => `${by}, ${on}`

const photoText = ({ photo }: Prepared): string => (photo === undefined ? 'none' : shortHash(photo))

function gaugeTexts(one: Prepared): readonly string[] {
  const { measured_diameter_mm: largest, out_of_round_mm: outOfRound, gauge_uncertainty_mm: doubt } = one
  if (largest === undefined || outOfRound === undefined || doubt === undefined || one.measured === undefined)
    return ['not measured', 'not measured', 'none', 'by nobody']
  const gauge = `${one.gauge ?? 'unknown'}, ± ${mm(1e-3 * doubt, 3)}`
  return [mm(1e-3 * largest, 3), mm(1e-3 * outOfRound, 3), gauge, doneText(one.measured)]
}

/** Silence could be read as "it fits". */
function unmeasured(input: ReportInput): readonly Block[] {
  if (input.state.opened.application !== 'fastener hole') return []
  const names = input.state.places
    .filter(({ preparation: one }) => one?.measured_diameter_mm === undefined)
    .map(({ place }) => place.name)
  if (names.length === 0) return []
  return [paragraph(`Not measured, so that nothing is known of how the probe fits: ${names.join(', ')}.`)]
}

interface Wide {
  readonly place: string
  readonly file: string
  readonly oversize: Oversize
  readonly refusals: Examination['refusals']
}

const wideHoles = (input: ReportInput): readonly Wide[] =>
  input.state.places.flatMap(({ place, examinations }) =>
    examinations.flatMap((one) => {
      const examination = examinationOf(input, one)
      const { oversize: told, refusals = [] } = examination ?? {}
      return told === undefined ? [] : [{ place: place.name, file: one.file, oversize: told, refusals }]
    })
  )

function oversize(input: ReportInput): readonly Block[] {
  const all = wideHoles(input)
  if (all.length === 0) return []
  const table: Block = {
    block: 'table',
    caption: 'Oversize holes: loss',
    columns: [
      { label: 'Place' },
      { label: 'Recording' },
      { label: 'Wider than the reference standard', figures: true },
      { label: 'Loss, centered', figures: true },
      { label: 'Loss at most', figures: true },
      { label: 'Alarm level', figures: true },
      { label: 'How known' }
    ],
    rows: all.map(({ place, file, oversize: one }) => cells(place, file, ...lossTexts(one), one.basis))
  }
  return [table, ...notExamined(all)]
}

function lossTexts({ wider_m, doubt_m, loss_dB: loss, alarm }: Oversize): readonly string[] {
  const wider = `${mm(wider_m, 3)} ± ${mm(doubt_m, 3)}`
  if (loss === undefined) return [wider, 'not computed', 'not computed', 'as the technique has it']
  const lowered = alarm === undefined ? 'as the technique has it' : percent(alarm, 1)
  return [wider, `${loss.centered.toFixed(1)} dB`, `${loss.most.toFixed(1)} dB`, lowered]
}

function notExamined(all: readonly Wide[]): readonly Block[] {
  const items = all.flatMap(({ place, refusals }) =>
    refusals
      .filter(({ code }) => code.startsWith('examine/oversize'))
      .map(({ found, needed }) => `${place}, not examined: ${found} (needed: ${needed}).`)
  )
  return items.length === 0 ? [] : [list([...new Set(items)])]
}
