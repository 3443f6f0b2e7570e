import { type Block, type Fact, paragraph } from '../blocks.ts'
import { count, moment, notStated } from '../print.ts'
import type { ReportInput, Section } from '../report-input.ts'

/** What was examined, by whom, by which paper; what keeps this record from being signed off is said at once. */
export const identification: Section = {
  title: 'Job and component',
  blocks: (input) => [...warnings(input), { block: 'facts', facts: facts(input) }, only]
}

const only: Block = paragraph('The results relate only to the places named here and to the time of the scans.')

function warnings({ state }: ReportInput): readonly Block[] {
  const { opened, confirmed } = state
  return [
    ...(opened.job.demonstration ? [demonstration] : []),
    ...(confirmed === undefined ? [unconfirmed] : []),
    ...(opened.signing === 'required' ? [] : [unsigned])
  ]
}

const demonstration: Block = {
  block: 'caution',
  tone: 'stop',
  title: 'Demonstration, never to be signed off',
  text: 'Component, people and recordings are invented. Nothing here may be used to release a part.'
}

const unconfirmed: Block = {
  block: 'caution',
  tone: 'stop',
  title: 'Technique not confirmed',
  text: 'No named person has confirmed the technique in force. Nothing may be examined with it.'
}

const unsigned: Block = {
  block: 'caution',
  tone: 'warning',
  title: 'Unsigned',
  text: 'Names stand in this record as they were entered. The archive had no registers when the job was opened: what was approved or corrected carries no signature.'
}

function facts({ state, technique, program, printed }: ReportInput): readonly Fact[] {
  const { job, application } = state.opened
  const procedure = technique?.document.procedure
  return [
    { label: 'Job', value: job.id },
    { label: 'Component', value: job.component },
    { label: 'Condition of the component', value: notStated },
    { label: 'Client', value: notStated },
    { label: 'Laboratory', value: notStated },
    { label: 'Place', value: job.place ?? notStated },
    { label: 'Work order', value: job.task ?? notStated },
    { label: 'Job opened', value: job.opened },
    { label: 'Scans taken', value: taken(state) },
    { label: 'Examination', value: `eddy current, ${application}` },
    {
      label: 'Technique',
      value: procedure === undefined ? notStated : `${procedure.id}, revision ${procedure.revision}`
    },
    { label: 'Technique confirmed', ...confirmation(state) },
    { label: 'Examined by', value: examiner(state) },
    { label: 'Released by', value: notStated, known: 'name, function and signature' },
    { label: 'Chain head', value: `${state.count}:${state.head}`, known: 'entries and hash of the last' },
    { label: 'Report', value: moment(printed), known: `${program.name} ${program.version}` }
  ]
}

/** First and last day and time that the recordings themselves or the job sheet give; they are no proof of order. */
function taken({ recordings }: ReportInput['state']): string {
  const times = recordings.flatMap((one) => (one.taken === undefined ? [] : [one.taken.time.replace('T', ' ')])).sort()
  const without = recordings.length - times.length
  const rest = without === 0 ? '' : `; of ${count(without, 'recording')} not stated`
  return times.length === 0 ? notStated : `${[...new Set([times[0], times.at(-1)])].join(' to ')}${rest}`
}

function confirmation({ confirmed }: ReportInput['state']): Omit<Fact, 'label'> {
  if (confirmed === undefined) return { value: 'by nobody' }
  return {
    value: `${confirmed.name}, level ${confirmed.level}, on ${confirmed.on}`,
    known: confirmed.signed === false ? 'unsigned, from the job sheet' : 'signed with their key'
  }
}

function examiner({ opened }: ReportInput['state']): string {
  const person = opened.people.find(({ name }) => name === opened.examinedBy)
  if (person === undefined) return `${opened.examinedBy}, level not stated`
  return `${person.name}, level ${person.level}, certificate ${person.certificate ?? notStated}`
}
