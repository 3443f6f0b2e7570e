import type { Block } from './blocks.ts'
import { heading } from './blocks.ts'
import type { ReportInput } from './report-input.ts'
import { sections } from './sections.ts'

/** The whole report, in the order of the list of sections: what was not examined comes before anything that was found. */
export const reportBlocks = (input: ReportInput): readonly Block[] => [
  heading(1, `Examination record ${input.state.opened.job.id}`),
  ...sections.flatMap(({ title, blocks }) => [heading(2, title), ...blocks(input)])
]
