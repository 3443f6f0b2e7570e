import type { Result } from '@trueloop/ground/refusal'
import { canonical, type TechniqueSheet, techniqueSheetBlocks, techniqueSheetTitle } from '@trueloop/job/record'
import { html } from './html.ts'
import type { Page } from './page.ts'
import { pdf } from './typst/index.ts'

/** The technique sheet as one HTML document. */
export const techniqueSheetHtml = (input: TechniqueSheet): string => html(pageOf(input))

/** The same as PDF/A, the technique inside it as canonical JSON. Refuses `press/no-typesetter`. */
export const techniqueSheetPdf = (input: TechniqueSheet): Promise<Result<Uint8Array>> =>
  pdf({
    ...pageOf(input),
    foot: `Technique sheet · ${techniqueSheetTitle(input.sheet)} · document ${input.document.slice(0, 12)} · ${input.program.name} ${input.program.version} · unsigned`,
    time: input.printed.time,
    attachments: [
      {
        ...{ name: 'technique.json', mime: 'application/json', relationship: 'source' },
        description:
          'The technique as canonical JSON: its SHA-256 is the document that a job has and a Level III approves',
        bytes: Buffer.from(canonical(input.sheet.technique), 'utf8')
      }
    ]
  })

const pageOf = (input: TechniqueSheet): Page => {
  const { sheet, document, program, printed } = input
  return {
    title: `Technique sheet: ${techniqueSheetTitle(sheet)}`,
    blocks: techniqueSheetBlocks(input),
    ...(sheet.job.demonstration ? { stamp: 'Demonstration: invented data, never to be signed off' } : {}),
    footer: `Unsigned. Document ${document}. ${program.name} ${program.version}. ${printed.time}, ${printed.known}.`
  }
}
