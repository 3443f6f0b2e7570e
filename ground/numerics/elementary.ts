/**
 * Elementary functions of our own. ECMAScript leaves the last bits of its own to the engine, and engines differ;
 * these use correctly rounded operations only and so give the same bits everywhere.
 * Errors measured against 50-digit references: see `elementary.test.ts`.
 */
export { PI, TAU } from './elementary/constants.ts'
export { exp, expm1 } from './elementary/exponential.ts'
export { acos, asin, atan, atan2 } from './elementary/inverse.ts'
export { log, log1p, log10 } from './elementary/logarithm.ts'
export { cbrt, hypot, pow } from './elementary/power.ts'
export { cos, type SinCos, sin, sincos, tan } from './elementary/trigonometric.ts'
