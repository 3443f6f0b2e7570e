import { type Block, cells, list, paragraph, tableOr } from '../blocks.ts'
import { examinationOf, namesOf, placesWord } from '../lookups.ts'
import { missingShare } from '../place.ts'
import { count, ended, sentenceCase } from '../print.ts'
import type { ReportInput, Section } from '../report-input.ts'
import type { PlaceState } from '../state.ts'
import { symbolCell } from './cells.ts'
import { leftOutOfPlan } from './weld-plan.ts'

/** What nobody looked at, and sizes that could not be stated: before anything that was found. */
export const notExamined: Section = {
  title: 'Not examined',
  blocks: (input) => [...withheld(input), ...missing(input), ...leftOutOfPlan(input), ...refused(input)]
}

/** Values of the set-up that nobody knows are said first: they take sizes and proposals from all that follows. */
function withheld(input: ReportInput): readonly Block[] {
  const reasons = new Map<string, Set<string>>()
  for (const { place, examinations } of input.state.places) {
    for (const one of examinations) {
      for (const reason of reasonsIn(input, one))
        reasons.set(reason, (reasons.get(reason) ?? new Set()).add(place.name))
    }
  }
  const unknown = unknownValues(input)
  if (reasons.size === 0 && unknown.length === 0) return []
  const items = [...reasons].map(([reason, names]) => `${sentenceCase(reason)}: ${[...names].join(', ')}.`)
  const rest = reasons.size === 0 ? [`Not known by anybody: ${unknown.join(', ')}.`] : []
  return [
    {
      block: 'caution',
      tone: 'warning',
      title: 'Sizes and proposals withheld',
      text: 'Where a value of the set-up is not known, the place is examined, but no size and no proposal is given.'
    },
    list([...items, ...rest])
  ]
}

const reasonsIn = (input: ReportInput, one: PlaceState['examinations'][number]): readonly string[] => [
  ...new Set((examinationOf(input, one)?.indications ?? []).flatMap(({ size }) => size.withheld))
]

const unknownValues = ({ state }: ReportInput): readonly string[] =>
  Object.entries(state.opened.equipment ?? {}).flatMap(([name, value]) => (value === 'unknown' ? [name] : []))

function missing(input: ReportInput): readonly Block[] {
  const { places } = input.state
  const open = places.filter(isOpen)
  if (open.length === 0) {
    return [paragraph(`All ${count(places.length, 'place')} of the job were examined, in every zone.`)]
  }
  const table = tableOr(
    {
      caption: 'Not examined, in whole or in part',
      columns: ['Place', 'State', 'Zone', 'Reason'].map((label) => ({ label })),
      rows: open.flatMap((place) => rowsOf(input, place))
    },
    ''
  )
  const whole = open.filter((place) => missingShare(place) === 'all')
  const parts = open.filter((place) => missingShare(place) === 'part')
  const words = `Of ${places.length} ${placesWord(input)}, ${whole.length} were not examined and ${parts.length} only in part.`
  return [paragraph(whole.length === 0 ? words : `${words} Not examined: ${namesOf(whole)}.`), table]
}

const isOpen = (place: PlaceState): boolean => missingShare(place) !== 'nothing'

function rowsOf(input: ReportInput, place: PlaceState) {
  const start = [{ text: place.place.name }, symbolCell(place)]
  if (place.latest === undefined) return [[...start, ...cells('all', whyNot(input, place))]]
  if (place.missing.length === 0) return [[...start, ...cells('all', 'no zone could be placed')]]
  return byReason(place).map(([why, zones]) => [...start, ...cells(zones, why)])
}

/** Zones that miss for one and the same reason stand in one row. */
function byReason(place: PlaceState): readonly (readonly [why: string, zones: string])[] {
  const groups = new Map<string, string[]>()
  for (const { zone, why } of place.missing) {
    const reason = why.length === 0 ? 'not stated' : why.join('; ')
    groups.set(reason, [...(groups.get(reason) ?? []), zone])
  }
  const whole = groups.size === 1 && missingShare(place) === 'all'
  return [...groups].map(([why, zones]) => [why, whole ? 'all' : zones.join(', ')])
}

function whyNot({ state, refused: no }: ReportInput, { place, examinations }: PlaceState): string {
  const voided = examinations.findLast(({ standing }) => standing.standing === 'voided')
  if (voided?.standing.standing === 'voided') return ended(`${voided.file}: ${voided.standing.why}`)
  const refusal = no.findLast(({ subject }) => subject === place.name)
  if (refusal !== undefined) return ended(`${refusal.file} was refused: found ${refusal.refusal.found}`)
  const kept = state.recordings.findLast(({ of }) => of.of === place.of && 'name' in of && of.name === place.name)
  return kept === undefined ? 'No recording was taken.' : `${kept.file} is kept and has not been examined.`
}

const refused = ({ refused: no }: ReportInput): readonly Block[] =>
  no.length === 0
    ? []
    : [
        {
          block: 'table',
          caption: 'Refusals',
          columns: ['Place', 'Recording', 'Found', 'Needed', 'What to do'].map((label) => ({ label })),
          rows: no.map(({ subject, file, refusal }) =>
            cells(subject, file, refusal.found, refusal.needed, refusal.remedy)
          )
        }
      ]
