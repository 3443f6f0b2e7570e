import { type ReportInput, reportBlocks } from '@trueloop/job/record'
import { html } from './html.ts'

/** The report of a job as one HTML file. What must not be overlooked stays in sight and stands in the last line too. */
export function reportHtml(input: ReportInput): string {
  const { opened, count, head } = input.state
  const { job } = opened
  const demonstration = job.demonstration ? 'Demonstration: invented data, never to be signed off' : undefined
  const marks = [...(demonstration === undefined ? [] : [demonstration]), 'Unsigned']
  return html({
    title: `Job ${job.id}: ${job.component}`,
    blocks: reportBlocks(input),
    ...(demonstration === undefined ? {} : { stamp: demonstration }),
    footer: `${marks.join('. ')}. Job ${job.id}. Chain head ${count}:${head}. ${input.program.name} ${input.program.version}.`
  })
}
