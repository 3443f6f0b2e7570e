import type { PlaceRow } from '@trueloop/host/chain'
import { type Html, html } from './html.ts'

/**
 * The mark of a state: a shape that is told apart without color. Not examined is dashed and hatched; what was examined
 * has a solid outline; a voided scan wears a dashed outline over its former mark.
 */
export const markOf = (place: PlaceRow): Html =>
  html`<svg class="mark" viewBox="0 0 48 48" width="48" height="48" role="img" aria-label="${place.state}">${shapeOf(
    place
  )}</svg>`

const solid = html`<circle cx="24" cy="24" r="18" class="line"/>`
const dashed = html`<circle cx="24" cy="24" r="18" class="line dashed"/>`
const bar = html`<path d="M17 24h14" class="line"/>`
const half = html`<path d="M24 6a18 18 0 0 1 0 36z" class="fill"/>`
const triangle = html`<path d="M24 7 42 39H6z" class="fill"/>`
const tick = html`<path d="m15 25 7 7 12-16" class="line"/>`
const ring = html`<path d="M33 8.4A18 18 0 1 0 41.5 20" class="line"/>`
const filled = html`<circle cx="24" cy="24" r="18" class="fill"/>`
const diagonal = html`<path d="M12 36 36 12" class="line paper"/>`
const arrow = html`<path d="M14 24h20m-8-8 8 8-8 8" class="line paper"/>`
const hatching = html`<path d="M12 31 31 12M11 24 24 11M17 37 37 17M24 37 37 24" class="hatch"/>`

function shapeOf(place: PlaceRow): Html {
  switch (place.state) {
    case 'not examined':
      return html`${hatching}${dashed}`
    case 'voided by a recheck':
      return html`${formerMark(place)}<circle cx="24" cy="24" r="22" class="line dashed"/>`
    case 'relevant, not decided':
      return triangle
    case 'undecided':
      return html`${solid}${half}`
    case 'no recordable indication, decided':
      return html`${solid}${tick}`
    case 'ream and re-inspect':
      return ring
    case 'reject':
      return html`${filled}${diagonal}`
    case 'refer':
      return html`${filled}${arrow}`
    default:
      return html`${solid}${bar}`
  }
}

function formerMark({ relevant, undecided }: PlaceRow): Html {
  const inside = relevant > 0 ? triangle : undecided > 0 ? html`${solid}${half}` : html`${solid}${bar}`
  return html`<g transform="translate(7.2 7.2) scale(.7)" class="former">${inside}</g>`
}

export const favicon = [
  '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 48 48"><rect width="48" height="48" rx="10" fill="#f7f4ec"/>',
  '<path d="M24 24c7-17 19-11 14-3S17 30 10 27s0-20 14-3z" fill="none" stroke="#3a2d8c" stroke-width="4"/></svg>'
].join('')
