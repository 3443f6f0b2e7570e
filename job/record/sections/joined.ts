import { type Block, cells, paragraph, tableOr } from '../blocks.ts'
import type { JoinedIndication } from '../joined.ts'
import type { Sighting } from '../joined-says.ts'
import { amplitude, ended, notStated, sentenceCase, shortHash } from '../print.ts'
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
  const rows = state.places.flatMap((whole) =>
    whole.joined.map((one) =>
      cells(
        ...[whole.place.name, one.id, one.decided?.class ?? notStated, disposedText(whole)],
        ...[state.opened.examinedBy, secondLook(one, whole), photoText(whole)]
      )
    )
  )
  const columns = ['Place', 'Indication', 'Class by a person', 'Disposition', 'Examined by', 'Second look', 'Photo']
  if (rows.length === 0) return []
  return [
    { block: 'table', caption: 'Disposition of the indications', columns: columns.map((label) => ({ label })), rows }
  ]
}

/** The disposition of its place that is in force. */
const disposedText = ({ disposition }: PlaceState): string =>
  disposition === undefined ? notStated : `${disposition.disposition}, ${disposition.by.name}`

const photoText = ({ preparation }: PlaceState): string =>
  preparation?.photo === undefined ? notStated : shortHash(preparation.photo)

/** Every scan of the place but the one that saw it first, and every person who has looked at what was decided. */
function secondLook({ seen, unseen, decided }: JoinedIndication, { looks, disposition }: PlaceState): string {
  const made = [decided?.id, disposition?.id]
  const people = looks
    .filter(({ of }) => made.includes(of))
    .map(({ by, agrees }) => `${by.name}: ${agrees ? 'agrees' : 'disagrees'}`)
  const again = seen.slice(1).map(({ file, after }) => `${file}${afterText(after)}: found`)
  const not = unseen.map(
    ({ file, after, looked }) => `${file}${afterText(after)}: ${looked ? 'not found' : 'did not look there'}`
  )
  const all = [...people, ...again, ...not]
  return all.length === 0 ? notStated : [...new Set(all)].join('; ')
}

const afterText = (after: string | undefined): string => (after === undefined ? '' : ` (${after})`)
