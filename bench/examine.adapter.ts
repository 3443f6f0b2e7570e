/** The simulated set-up of a trial job as its `setup.json` holds it; only what the adapter reads has to be typed. */
export interface TrialSetup {
  readonly [key: string]: unknown
}

/** What our examine says of one recording: how many samples it read and where its calls lie. */
export interface Examined {
  readonly samples: number
  /** angle of each call (relevant or undecided) from the index pulse, in the recording's own sense, degrees */
  readonly angles_deg: readonly number[]
}

/** Examines the bytes of one recording with a standardization already made. */
export type Examiner = (recording: Uint8Array) => Examined

/**
 * TO BE FILLED IN when the rooms are there: the bytes of the reference scan (WAV: x, y, index) and the set-up ->
 * an examiner, through the public indexes of `@trueloop/job/scan`, `standardize` and `examine`, with the technique of
 * the set-up unchanged. Reading the bytes belongs to it: the peer's time includes reading too.
 */
export function examinerFor(_reference: Uint8Array, _setup: TrialSetup): Examiner {
  throw new Error('bench/examine.adapter.ts is not filled in yet')
}
