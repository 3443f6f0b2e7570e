import { PI } from '@trueloop/ground/numerics'

/**
 * Magnetic constant, 4 pi 1e-7 H/m: the value by which the check values were computed. The measured value of the
 * present SI differs by less than 1e-9 of it. source: bipm-si-2019, 2.3.1
 */
export const MU0 = 4e-7 * PI

/** Speed of light, m/s. source: bipm-si-2019, 2.2 */
export const LIGHT = 299_792_458
