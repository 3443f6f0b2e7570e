/**
 * What is known of a place when its cause is weighed: the evidence row. Angles in the standardized plane, lift-off at 0,
 * as lines (0 to π). `'unknown'` where the recording can not tell.
 */
export interface Features {
  /** peak-to-peak of the loop, and fitted size of the notch's shape; 1 = the named notch */
  readonly amplitude: number
  readonly matched: number
  /** matched size over its noise at this place */
  readonly signalToNoise: number
  /** angle of the fitted shape, and how far it is from lift-off and from the nearest angle of the notches */
  readonly phase_rad: number
  readonly fromLiftOff_rad: number
  readonly fromNotches_rad: number
  /** shorter over longer axis of the loop: 0 a line, 1 a circle */
  readonly roundness: number
  /** share of the loop's energy that the notch's shape explains, 0 to 1 */
  readonly likeness: number
  /** +1 as the notch's, −1 reversed */
  readonly lobeOrder: 1 | -1
  /** smaller lobe over larger one, 0 to 1 */
  readonly symmetry: number
  /** distance of the lobes over the notch's */
  readonly width: number
  /** revolutions at half the peak or more, and how many the flaw sought would answer over */
  readonly rows: number
  readonly expectedRows: number
  /** mean likeness of neighboring revolutions, −1 to 1 */
  readonly repeat: number
  /** largest move in angle between neighboring revolutions, and the steady part of it, turns */
  readonly wander_turn: number
  readonly helix_turn: number
  /** share of the circumference that answers at half the peak or more on the same revolutions, 0 to 1 */
  readonly around: number
  /** strongest line of 4 or more a revolution around the whole wall there, and its share of the power */
  readonly comb: { readonly perTurn: number; readonly share: number }
  /** once, twice, three times a revolution in the placed signal there, standardized */
  readonly harmonics: readonly [number, number, number]
  /** −6 dB extent along the axis, and the share of its layer that this is */
  readonly extent_m: number | 'unknown'
  readonly layerShare: number | 'unknown'
  /** distance of its middle from the nearest face of a layer, and whether that is a face of the part or a joint */
  readonly toFace_m: number | 'unknown'
  readonly face: 'entry' | 'exit' | 'joint' | 'unknown'
  /** highest share of energy beyond the notch's own band: narrow things have more */
  readonly sharpness: number
}
