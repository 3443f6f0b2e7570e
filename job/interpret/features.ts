/**
 * What is known of a place when its cause is weighed: the evidence row. Angles in the standardized plane, lift-off at 0,
 * as lines (0 to π). `'unknown'` where the recording can not tell.
 */
export interface Features {
  /** peak-to-peak of the loop, and fitted size of the notch's shape; 1 = the named notch */
  readonly amplitude: number
  readonly matched: number
  /** fitted size over its noise on one revolution */
  readonly signalToNoise: number
  /** deviations of the noise by which it stands out, joined over revolutions; 0 where only the alarm speaks */
  readonly joined: number
  /** angle of the fitted shape over its revolutions, and how far it is from lift-off and from the nearest angle of the notches */
  readonly phase_rad: number
  readonly fromLiftOff_rad: number
  /** 0 between the angles of two notches: they turn with depth, and so does what lies between them in depth */
  readonly fromNotches_rad: number
  /** standard deviation of the angle by the noise */
  readonly phaseNoise_rad: number
  /** shorter over longer axis of the loop: 0 a line, 1 a circle */
  readonly roundness: number
  /** share of the loop's energy that the notch's shape explains, 0 to 1 */
  readonly likeness: number
  /** +1 as the notch's, −1 reversed */
  readonly lobeOrder: 1 | -1
  /** smaller lobe over larger one, 0 to 1 */
  readonly symmetry: number
  /** largest answer of the opposite order beside it, over its own: about a half for a notch, above 1 beside something stronger */
  readonly opposite: number
  /** distance of the lobes over the notch's */
  readonly width: number
  /** revolutions at half the peak or more; and how many pass over the flaw sought and the footprint together, about twice as many */
  readonly rows: number
  readonly expectedRows: number
  /** the run reaches an end of the pass, so that it may be longer than its rows say */
  readonly cut: boolean
  /** mean likeness of neighboring revolutions, −1 to 1 */
  readonly repeat: number
  /** largest move in angle between neighboring revolutions, the steady part of it, and the largest beside that, turns */
  readonly wander_turn: number
  readonly helix_turn: number
  readonly unsteady_turn: number
  /**
   * what stands on a long run: the size along a notch by which a place of it differs from the rest of the run beyond any
   * change along the run's own direction, and that over its noise
   */
  readonly overRun: { readonly size: number; readonly signalToNoise: number } | 'unknown'
  /** share of the rest of the circumference that answers at half the peak or more on the same revolutions, 0 to 1 */
  readonly around: number
  /** strongest line of 4 or more a revolution around the whole wall there, its share of the power, its size (1 = notch) */
  readonly comb: { readonly perTurn: number; readonly share: number; readonly size: number }
  /** once, twice, three times a revolution in the placed signal there, standardized */
  readonly harmonics: readonly [number, number, number]
  /** −6 dB extent along the axis, and the share of its layer that this is */
  readonly extent_m: number | 'unknown'
  readonly layerShare: number | 'unknown'

  /** distance of its middle from the nearest face of a layer, and whether that is a face of the part or a joint */
  readonly toFace_m: number | 'unknown'
  readonly face: 'entry' | 'exit' | 'joint' | 'unknown'

  /** share of energy beyond the notch's own band, 0 for the notch: narrow things have more */
  readonly sharpness: number
}
