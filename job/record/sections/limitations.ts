import { type Block, list, paragraph } from '../blocks.ts'
import type { ReportInput, Section } from '../report-input.ts'

/** How little this record can say. Detectable size stands here and nowhere else as long as it has been shown by nobody. */
export const limitations: Section = {
  title: 'Limitations and cautions',
  blocks: (input) => [
    capability(input),
    list([...cautions, ...positions(input)]),
    paragraph(
      'Amplitudes are given as a share of the named notch. A notch is not a crack: equal amplitude is not equal size.'
    )
  ]
}

/** Printed only where a Level III has attached it, and only as long as its conditions are those of the job. */
function capability({ state: { capability: shown } }: ReportInput): Block {
  if (shown === undefined) return notShown
  const text = `${shown.words} Source: ${shown.source}. Attached by ${shown.by.name}. A smaller flaw, and any flaw outside what was demonstrated, can have been missed.`
  return { block: 'caution', tone: 'note', title: 'Capability demonstrated for this set-up', text }
}

const notShown: Block = {
  block: 'caution',
  tone: 'warning',
  title: 'Capability: detectable size not demonstrated for this set-up',
  text: 'Nobody has shown how small a flaw this set-up finds. A flaw of any size can have been missed, in the examined zones too.'
}

/** What every print says; the first four are of planning too. */
export const cautions = [
  'Only persons qualified and certified for eddy-current testing examine and interpret. The program proposes; a named person decides.',
  'The approved procedure takes precedence over anything shown here.',
  '"No relevant indication" means that nothing in the examined zones answered above the stated level. It does not say that no flaw is there.',
  'No statement on airworthiness or fitness for service is made.',
  'A wrong interpretation can pass a bad part or reject a good one. In doubt, the next higher level looks.',
  'Sizes are statements against notches, with their bounds. Nothing is stated outside the range of the notches.',
  'A recheck that fails, or never comes, takes the work since the last good one with it.',
  'Scratches by probe or tool are damage and are reported.'
]

/** What is known of the places, so that nobody reads a relative angle as a clock position. */
function positions({ examinations, state }: ReportInput): readonly string[] {
  const angles = new Set(examinations.map(({ document }) => document.position.angle))
  const words = {
    clock: 'Clock positions count from the datum that the technique names, seen and turning as it says.',
    'relative angle': 'Angles are relative: they count from the index pulse, not from a datum on the part.',
    position: 'Positions count from the start of the track.',
    unknown: 'The position of the indications is unknown: the recordings carry none.'
  }
  const depth = state.opened.application === 'fastener hole' ? ['Depths count from the entry face.'] : []
  return [...[...angles].map((angle) => words[angle]), ...depth] satisfies readonly string[]
}
