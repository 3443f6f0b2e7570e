import { type Block, cells, paragraph, tableOr } from '../blocks.ts'
import type { EntryOf } from '../kinds.ts'
import { moment } from '../print.ts'
import { reamingBlocks, reamText } from '../reaming/index.ts'
import type { ReportInput, Section } from '../report-input.ts'
import type { DecisionEntry, JobState } from '../state.ts'

/** What people decided, in the order in which they did; what is out of force now stands here too, and is marked. */
export const decisionsSection: Section = {
  title: 'Decisions of people',
  blocks: (input) => [
    ...decisions(input),
    ...reamingBlocks(input.state),
    ...handovers(input),
    ...deliveries(input),
    ...merges(input)
  ]
}

const decisions = ({ state }: ReportInput): readonly Block[] => [
  tableOr(
    {
      caption: 'Decisions, each signed by the person named',
      columns: ['When', 'Place', 'Decided', 'Reason', 'By', 'In force'].map((label) => ({ label })),
      rows: state.decisions.map((one) =>
        cells(
          moment(one.at),
          placeOf(one),
          said(one, state),
          reasonOf(one),
          by(one),
          isInForce(one, state) ? 'yes' : 'no'
        )
      )
    },
    'No person has decided anything in this record.'
  )
]

const placeOf = (one: DecisionEntry): string =>
  'subject' in one ? `${one.subject.of} ${one.subject.name}` : 'the whole job'

function said(one: DecisionEntry, state: JobState): string {
  switch (one.kind) {
    case 'interpreted':
      return `${one.seen.map(({ id }) => id).join(', ')}: ${one.class}${one.before_proposal === true ? ', stated before the proposal was shown' : ''}`
    case 'disposed':
      return reamText(one)
    case 'second-look':
      return `second look at what ${decider(one, state)} decided: ${one.agrees ? 'agrees' : 'disagrees'}`
    case 'reamed':
      return `cut, aimed at Ø ${one.aimed_mm} mm`
    case 'left-out':
      return 'left unexamined'
    case 'place-closed':
      return 'closed'
    case 'job-closed':
      return 'job closed'
    case 'job-reopened':
      return 'job opened again'
  }
}

const decider = ({ of }: EntryOf<'second-look'>, { decisions: all }: JobState): string =>
  all.find(({ id }) => id === of)?.by.name ?? 'somebody'

const reasonOf = (one: DecisionEntry): string =>
  'reason' in one ? (one.reason ?? 'none given') : 'remarks' in one ? (one.remarks ?? 'none given') : 'none given'

const by = (one: DecisionEntry): string => (one.signed === false ? `${one.by.name}, unsigned` : one.by.name)

/** A cut and a look are facts; what was decided is in force as long as the record's state rests on it. */
function isInForce(one: DecisionEntry, { places, closed }: JobState): boolean {
  if (one.kind === 'reamed' || one.kind === 'second-look' || one.kind === 'job-reopened') return true
  if (one.kind === 'job-closed') return closed?.id === one.id
  const place = places.find(({ place: { of, name } }) => of === one.subject.of && name === one.subject.name)
  const standing = [
    place?.disposition,
    place?.closed,
    place?.leftOut,
    ...(place?.joined ?? []).map(({ decided }) => decided)
  ]
  return standing.some((each) => each?.id === one.id)
}

function handovers({ state }: ReportInput): readonly Block[] {
  if (state.handovers.length === 0) return []
  return [
    {
      block: 'table',
      caption: 'Work handed over',
      columns: ['When', 'From', 'To', 'What was said', 'Taken'].map((label) => ({ label })),
      rows: state.handovers.map(({ handed, taken }) =>
        cells(
          moment(handed.at),
          handed.by.name,
          handed.to,
          handed.note,
          taken === undefined ? 'not yet' : moment(taken.at)
        )
      )
    }
  ]
}

const deliveries = ({ state }: ReportInput): readonly Block[] =>
  state.deliveries.map(({ at, to, report, by: { name } }) =>
    paragraph(`Delivered to ${to} by ${name}, ${moment(at)}: the report whose SHA-256 is ${report}.`)
  )

const merges = (input: ReportInput): readonly Block[] => [
  ...input.state.merges.map((one) => paragraph(mergeText(one))),
  ...contradictions(input)
]

function mergeText({ at, ours, theirs, common, by: { name }, reason, clocks_agree_s }: EntryOf<'merged'>): string {
  const clocks =
    clocks_agree_s === undefined
      ? 'Nobody vouches for their clocks: which came first of what the two did is not known.'
      : `Their clocks agreed within ${clocks_agree_s} s, as ${name} states.`
  return `Two devices worked on this job apart after entry ${common - 1}: ${reason}. ${name} brought both chains together, ${moment(at)}: one of ${ours.count} entries ended in ${ours.head}, the other, of ${theirs.count}, in ${theirs.head}. ${clocks}`
}

function contradictions({ state: { places, contradictions: all, merges: some } }: ReportInput): readonly Block[] {
  if (some.length === 0) return []
  const rows = [
    ...all.map((words) => cells('the whole job', words)),
    ...places.flatMap(({ place: { of, name }, contradictions: own }) => own.map((one) => cells(`${of} ${name}`, one)))
  ]
  return [
    tableOr(
      {
        caption: 'Contradictions of two devices, for a person to decide',
        columns: ['Place', 'Contradiction'].map((label) => ({ label })),
        rows
      },
      'Nothing that was said on one device speaks against what was said on the other.'
    )
  ]
}
