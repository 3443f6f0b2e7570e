import type { Cause, Weighed } from '../causes/index.ts'
import type { Group, Values } from '../parameters.ts'
import type { TrackFeatures } from '../track-features.ts'

/** Something that makes indications along a weld: as in holes, told from what a track shows. */
export interface TrackCause<G extends Group = Group> extends Omit<Cause<G>, 'weigh'> {
  weigh(features: TrackFeatures, values: Values<G>): Weighed
}

/** The same cause; its declared numbers give the type of the values that it weighs with. */
export const trackCause = <const G extends Group>(one: TrackCause<G>): TrackCause<G> => one
