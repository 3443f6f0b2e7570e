import type { Block } from './blocks.ts'
import { heading } from './blocks.ts'
import { hasUnmarked, ofThePart } from './practice.ts'
import type { ReportInput, Section } from './report-input.ts'
import { practiceSection } from './sections/practice.ts'
import { sections } from './sections.ts'

/** The whole report, in the order of the list of sections: what was not examined comes before anything that was found. */
export const reportBlocks = (input: ReportInput): readonly Block[] => [
  heading(1, `Examination record ${input.state.opened.job.id}`),
  ...unmarked(input),
  ...sectionsOf(input).flatMap((section) => [heading(2, section.title), ...section.blocks(inputOf(section, input))])
]

/** The sections that a report has: one on practice only where there is any. */
export const sectionsOf = (input: ReportInput): readonly Section[] =>
  sections.filter(({ isAsked }) => isAsked === undefined || isAsked(input))

const inputOf = (section: Section, input: ReportInput): ReportInput =>
  section.ofRecord === true ? input : ofThePart(input)

/** Before anything else: a report that mixes practice and component is none to act on. */
const unmarked = (input: ReportInput): readonly Block[] =>
  hasUnmarked(input.state) ? practiceSection.blocks(input) : []
