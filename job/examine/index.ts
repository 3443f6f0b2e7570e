export type { CoatingMet } from './coating-profile.ts'
export { type Code, codes } from './codes.ts'
export type {
  Coverage,
  Drop,
  Examination,
  Indication,
  Oversize,
  Picture,
  PositionBasis,
  Snippet,
  TrackCoatingStated,
  ZoneResult
} from './examination.ts'
export { openHole } from './hole.ts'
export { HOLE_METHOD } from './hole-close.ts'
export type { HoleExamination } from './hole-input.ts'
export { type Alike, agreementOf, alikeScans, type PrintedScan, type WallPrint, wallPrintOf } from './likeness.ts'
export { LOOP_METHOD, type LoopExamination, openLoop } from './loop.ts'
export { openRun, type Recipe } from './opening.ts'
export type { Asked, Closed, Run, Watching } from './recipe.ts'
export type { Wall } from './wall.ts'
export { openWeld } from './weld.ts'
export { WELD_METHOD } from './weld-close.ts'
export type { WeldExamination } from './weld-input.ts'
export { type Zone, zonesOf } from './zones.ts'
