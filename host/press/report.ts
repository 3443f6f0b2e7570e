import type { Result } from '@trueloop/ground/refusal'
import { methodsOf, type ReportInput, reportBlocks } from '@trueloop/job/record'
import { html } from './html.ts'
import type { Page } from './page.ts'
import { type Attachment, pdf } from './typst/index.ts'

/** The report of a job as one HTML file. What must not be overlooked stays in sight and stands in the last line too. */
export const reportHtml = (input: ReportInput): string => html(pageOf(input))

/**
 * The same report as PDF/A with files inside it; its only time is that of `input.printed`. What must not be overlooked
 * stands on every page. Refuses `press/no-typesetter`.
 */
export function reportPdf(input: ReportInput, attachments: readonly Attachment[]): Promise<Result<Uint8Array>> {
  const page = pageOf(input)
  const stamp = page.stamp === undefined ? {} : { stamp: page.stamp.replace('Demonstration', 'DEMONSTRATION') }
  return pdf({ ...page, ...stamp, foot: footOf(input), time: input.printed.time, attachments })
}

function pageOf(input: ReportInput): Page {
  const { opened, count, head } = input.state
  const { job } = opened
  const demonstration = job.demonstration ? 'Demonstration: invented data, never to be signed off' : undefined
  const marks = [...(demonstration === undefined ? [] : [demonstration]), sentenceCase(signedText(input.state))]
  return {
    title: `Job ${job.id}: ${job.component}`,
    blocks: reportBlocks(input),
    ...(demonstration === undefined ? {} : { stamp: demonstration }),
    footer: `${marks.join('. ')}. Job ${job.id}. Chain head ${count}:${head}. ${input.program.name} ${input.program.version}.`
  }
}

/** Names the page where it lies alone. The whole chain head stands in the identification. */
function footOf({ state, program }: ReportInput): string {
  const methods = methodsOf(state)
  const method = methods.length === 0 ? 'no method' : `method ${methods.join(', ')}`
  const end = `chain head ${state.count}:${state.head.slice(0, 12)}`
  return `Job ${shortened(state.opened.job.id)} · ${end} · ${method} · ${program.name} ${program.version} · ${signedText(state)}`
}

/** Whose hand stands under the whole of it: nobody's, until the job is closed. */
const signedText = ({ opened, closed }: ReportInput['state']): string =>
  opened.signing !== 'required'
    ? 'unsigned'
    : closed === undefined
      ? 'not closed'
      : `closed and signed by ${closed.by.name}`

const sentenceCase = (text: string): string => `${text.charAt(0).toUpperCase()}${text.slice(1)}`

/** A foot has one line. */
const shortened = (id: string): string => (id.length > 40 ? `${id.slice(0, 39)}…` : id)
