import type { TrackCause } from './cause.ts'
import { trackCrack } from './crack.ts'
import { edgeOfPaint } from './edge-of-paint.ts'
import { endOfPlate } from './end-of-plate.ts'
import { liftOffJump } from './lift-off-jump.ts'
import { trackPermeability } from './permeability-change.ts'
import { spatter } from './spatter.ts'
import { toeGeometry } from './toe-geometry.ts'

export { type TrackCause, trackCause } from './cause.ts'
export { trackCrack } from './crack.ts'

/** Every cause along a weld, in the order of their names. */
export const trackCauses: readonly TrackCause[] = [
  trackCrack,
  edgeOfPaint,
  endOfPlate,
  liftOffJump,
  trackPermeability,
  spatter,
  toeGeometry
] as readonly TrackCause[]
