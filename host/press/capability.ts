import type { Result } from '@trueloop/ground/refusal'
import { type Block, canonical, type Moment } from '@trueloop/job/record'
import { html } from './html.ts'
import type { Page } from './page.ts'
import { pdf } from './typst/index.ts'

/** What a study of capability has to be printed. */
export interface CapabilityPage {
  readonly name: string
  readonly blocks: readonly Block[]
  /** where its figures come from, for the foot of each page */
  readonly origin: string
  readonly stamp?: string
  /** goes into the PDF: plain data, with its rows it can be worked out again */
  readonly result: unknown
}

/** A study of capability as one HTML document. */
export const capabilityHtml = (page: CapabilityPage, printed: Moment): string => html(pageOf(page, printed))

/** The same as PDF/A, the result inside it: with its rows it can be worked out again. Refuses `press/no-typesetter`. */
export const capabilityPdf = (page: CapabilityPage, printed: Moment): Promise<Result<Uint8Array>> =>
  pdf({
    ...pageOf(page, printed),
    foot: `Capability · ${page.name} · ${page.origin} · unsigned`,
    time: printed.time,
    attachments: [
      {
        ...{ name: 'result.json', mime: 'application/json', relationship: 'source' },
        description: 'The result as canonical JSON: with the rows that its hash names it can be worked out again',
        bytes: Buffer.from(canonical(JSON.parse(JSON.stringify(page.result))), 'utf8')
      }
    ]
  })

const pageOf = ({ name, blocks, origin, stamp }: CapabilityPage, printed: Moment): Page => ({
  ...{ title: `Capability: ${name}`, blocks },
  ...(stamp === undefined ? {} : { stamp }),
  footer: `Unsigned. ${origin}. ${printed.time}, ${printed.known}.`
})
