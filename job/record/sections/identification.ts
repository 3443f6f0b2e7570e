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
    { label: 'Condition of the component', value: job.condition ?? notStated },
    { label: 'Client', value: job.client ?? notStated },
    { label: 'Laboratory', value: job.laboratory ?? notStated },
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
    { label: 'Released by', ...released(state) },
    { label: 'Retention', ...retention(job) },
    { label: 'Chain head', value: `${state.count}:${state.head}`, known: 'entries and hash of the last' },
    { label: 'Report', value: moment(printed), known: `${program.name} ${program.version}` }
  ]
}

/** Who closed the job with their key has released the record of it; the part is released by other hands. */
function released({ closed, opened }: ReportInput['state']): Omit<Fact, 'label'> {
  if (closed === undefined) return { value: notStated, known: 'name, function and signature' }
  const person = opened.people.find(({ name }) => name === closed.by.name)
  const level = person === undefined ? '' : `, level ${person.level}`
  const known = 'closed the job, signed with their key; a release to service is not made here'
  return { value: `${closed.by.name}${level}, ${moment(closed.at)}`, known }
}

/** source: cfr-14-145-219, (c) */
const leastKept = 'a repair station in the United States keeps it at least 2 years: 14 CFR 145.219'

function retention({ retention: kept }: ReportInput['state']['opened']['job']): Omit<Fact, 'label'> {
  if (kept === undefined) return { value: notStated, known: leastKept }
  const value = `${count(kept.years, 'year')} from the approval for return to service`
  return { value, known: kept.basis === undefined ? leastKept : `${kept.basis}; ${leastKept}` }
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
