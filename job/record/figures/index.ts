/** Drawings that the report and the page share, without the schemas of the record: a page loads them alone. */
export { loopFigure } from './loop.ts'
export { profileFigure } from './profile.ts'
export { placeOnTrack, trackFigure } from './track.ts'
