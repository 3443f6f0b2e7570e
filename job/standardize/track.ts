import { type Band, UNIT } from '../signal/index.ts'

/** Ruler of a track: ten points on the half width of the field. */
const POINTS_A_FIELD = 24

/** Distance of two ruler points, m. */
export const trackStep = (fieldWidth_m: number): number => fieldWidth_m / POINTS_A_FIELD

/**
 * Low pass of a track, in cycles per 512 points: three times the 3 dB corner 0.312/w of a bell-shaped field of width w.
 * No high pass: a flaw along the track lasts as long as it is.
 */
export const trackBand = (): Band => ({ low: 0, high: (3 * 0.312 * UNIT) / POINTS_A_FIELD })
