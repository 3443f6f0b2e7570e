import type { Cell } from '../blocks.ts'
import { stateSymbol } from '../figures/symbols.ts'
import { missingShare } from '../place.ts'
import type { PlaceState } from '../state.ts'

/** A state as shape and word. What may still be voided says so. */
export function symbolCell(place: PlaceState): Cell {
  const partly = missingShare(place) === 'part'
  const rests = [...(partly ? ['in part'] : []), ...(place.provisional ? ['provisional'] : []), ...closed(place)]
  const state = partly && place.state !== 'not examined' ? `${place.state}; not examined` : place.state
  return { symbol: stateSymbol(place), text: rests.length === 0 ? state : `${state} (${rests.join(', ')})` }
}

/** Whoever closed it stands in the list of entries too. */
const closed = ({ closed: by }: PlaceState): readonly string[] =>
  by === undefined ? [] : [`closed by ${by.by.name}${by.signed === false ? '; unsigned' : ''}`]
