import { type Block, cells, paragraph, tableOr } from '../blocks.ts'
import type { JoinedIndication } from '../joined.ts'
import type { Sighting } from '../joined-says.ts'
import { amplitude, ended, notStated, sentenceCase } from '../print.ts'
import type { ReportInput, Section } from '../report-input.ts'
import type { PlaceState } from '../state.ts'

/** Every indication once, over all scans of its place: where it was seen and where not, and what keeps the place open. */
export const joinedSection: Section = {
  title: 'Indications, joined over all scans',
  blocks: (input) => [...open(input), how, table(input), ...lines(input)]
}

const how: Block = paragraph(
  'Indications of several scans of a place are one within 25° round it and 0.8 mm in depth, or where their bands overlap. Angles that count from the index pulse compare only where the probe was held the same way. A scan that does not see an indication does not remove it.'
)

function open({ state }: ReportInput): readonly Block[] {
  const places = state.places.filter(({ joined }) => joined.some((one) => one.open))
  if (places.length === 0) return []
  const names = places.map(({ place }) => place.name).join(', ')
  const text = `An indication waits for a person or for another scan: ${names}. None of these places can be closed.`
  return [{ block: 'caution', tone: 'warning', title: 'Open', text }]
}

const table = (input: ReportInput): Block =>
  tableOr(
    {
      caption: 'Indications of all scans',
      columns: ['Place', 'Indication', 'Interpretation', 'Found in', 'Not found in', 'Result', 'Open'].map((label) => ({
        label
      })),
      rows: input.state.places.flatMap((place) => place.joined.map((one) => row(input, place, one)))
    },
    'No scan of any place has an indication.'
  )

const row = ({ state }: ReportInput, { place }: PlaceState, one: JoinedIndication) => {
  const unit = state.opened.application === 'loop' ? 'recorded' : 'notch'
  return cells(
    ...[place.name, one.id, one.class, one.seen.map((each) => seenText(each, unit)).join('; '), unseenText(one)],
    ...[ended(sentenceCase(one.says)), one.open ? 'yes' : 'no']
  )
}

function seenText({ file, amplitude: value, after, discounted, class: of }: Sighting, unit: 'notch' | 'recorded') {
  const rest = [of, ...(after === undefined ? [] : [after]), ...(discounted === undefined ? [] : [discounted])]
  return `${file}: ${amplitude(value, unit)} (${rest.join('; ')})`
}

const unseenText = ({ unseen }: JoinedIndication): string =>
  unseen.length === 0
    ? '–'
    : unseen
        .map(({ file, after, looked }) => {
          const rest = [...(after === undefined ? [] : [after]), ...(looked ? [] : ['did not look there'])]
          return rest.length === 0 ? file : `${file} (${rest.join('; ')})`
        })
        .join('; ')

/** What a line of a finding is asked for beside what was measured. */
function lines({ state }: ReportInput): readonly Block[] {
  const rows = state.places.flatMap(({ place, joined }) =>
    joined.map((one) => cells(place.name, one.id, notStated, state.opened.examinedBy, secondLook(one), notStated))
  )
  const columns = ['Place', 'Indication', 'Disposition', 'Examined by', 'Second look', 'Photo']
  if (rows.length === 0) return []
  return [
    { block: 'table', caption: 'Disposition of the indications', columns: columns.map((label) => ({ label })), rows }
  ]
}

/** Every scan of the place but the one that saw it first. */
function secondLook({ seen, unseen }: JoinedIndication): string {
  const again = seen.slice(1).map(({ file, after }) => `${file}${afterText(after)}: found`)
  const not = unseen.map(
    ({ file, after, looked }) => `${file}${afterText(after)}: ${looked ? 'not found' : 'did not look there'}`
  )
  return again.length + not.length === 0 ? notStated : [...again, ...not].join('; ')
}

const afterText = (after: string | undefined): string => (after === undefined ? '' : ` (${after})`)
