import { type Block, paragraph } from '../blocks.ts'
import { holeMap, type MapPart } from '../figures/hole-map.ts'
import { describe, mapWords } from '../figures/hole-mark.ts'
import { stateSymbol } from '../figures/symbols.ts'
import { placesWord } from '../lookups.ts'
import type { ReportInput, Section } from '../report-input.ts'
import { byState } from '../states.ts'

/** Every hole with its state, to find it again: at its place on the component's drawing, or in the order of the list. */
export const holeMapSection: Section = {
  title: 'Hole map',
  isAsked: ({ state }) => state.opened.application !== 'weld',
  blocks: (input) => {
    if (input.state.opened.application !== 'fastener hole')
      return [paragraph(`None: the places of this job are ${placesWord(input)}.`)]
    const parts = holeMap(input.state.places)
    return [legend(input), ...parts.map((part, at) => figure(part, at, parts.length))]
  }
}

const legend = ({ state }: ReportInput): Block => ({
  block: 'table',
  caption: 'Marks of the map',
  columns: [{ label: 'State' }, { label: 'Word on the map' }, { label: 'Number', figures: true }],
  rows: byState(state).map((some) => [
    { symbol: stateSymbol(some[0]!), text: some[0]!.state },
    { text: mapWords[some[0]!.state] },
    { text: String(some.length) }
  ])
})

function figure({ svg, places, drawn }: MapPart, at: number, of: number): Block {
  const ends = [...new Set([places[0]!.place.name, places.at(-1)!.place.name])].join(' to ')
  const part = of === 1 ? '' : `, part ${at + 1} of ${of}`
  const which = drawn === 'in the order of the list' ? `${ends}, ${drawn}` : drawn
  return { block: 'figure', svg, alt: describe(places), caption: `Hole map${part}: ${which}`, width: 'whole' }
}
