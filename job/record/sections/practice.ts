import { type Block, cells, paragraph } from '../blocks.ts'
import { hasUnmarked } from '../practice.ts'
import type { ReportInput, Section } from '../report-input.ts'
import type { PlaceState } from '../state.ts'
import { classOf } from '../waiting.ts'

/** Practice mixed into the work: what was there, and what became of it. It is no part of what the report says of the component. */
export const practiceSection: Section = {
  title: 'Practice mixed in',
  ofRecord: true,
  isAsked: ({ state }) => state.opened.practice !== undefined,
  blocks: (input) => blocksOf(input)
}

function blocksOf({ state }: ReportInput): readonly Block[] {
  const { practice } = state.opened
  if (practice !== undefined && hasUnmarked(state))
    return [
      {
        ...{ block: 'caution', tone: 'stop', title: 'Practice is mixed in, and not marked yet' },
        text: `${practice.count} of the places are practice and no places of the component. Nobody may sign off or deliver this report before they are marked.`
      }
    ]
  return [
    paragraph('These places were practice, for watching how well people find: nothing of them is of the component.'),
    {
      ...{ block: 'table', caption: 'Practice places' },
      columns: ['Place', 'What was there', 'Found', 'State'].map((label) => ({ label })),
      rows: state.places.flatMap((place) =>
        place.practice === undefined
          ? []
          : [cells(place.place.name, place.practice.what, foundText(place), place.state)]
      )
    }
  ]
}

const foundText = ({ joined }: PlaceState): string => {
  const relevant = joined.filter((one) => classOf(one) === 'relevant').length
  return relevant === 0 ? 'nothing relevant' : `${relevant} relevant`
}
