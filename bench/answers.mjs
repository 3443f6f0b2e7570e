/** What two programs that examine the same recordings must agree on before their times are compared. */

const within = (angle_deg, other_deg, tolerance_deg) => {
  const apart = Math.abs(angle_deg - other_deg) % 360
  return Math.min(apart, 360 - apart) <= tolerance_deg
}

/**
 * Names of the strong notches (at least `least_mm` deep) near which a call lies. The tolerance covers that one program
 * gives the middle of a differential swing and the other its peak; notches of the standard lie further apart than twice it.
 */
export const notchesFound = (calls_deg, notches, { least_mm, tolerance_deg }) =>
  notches
    .filter(({ depth_mm }) => depth_mm >= least_mm)
    .filter(({ angle_deg }) => calls_deg.some((call) => within(call, angle_deg, tolerance_deg)))
    .map(({ place, depth_mm, angle_deg }) => `${place} ${depth_mm} mm at ${angle_deg} deg`)
    .sort()

/** Equal number of samples, equal set of strong notches, and not an empty one: two that find nothing agree on nothing. */
export function sameSamplesAndNotches(a, b) {
  const sameNotches = JSON.stringify(a.notches) === JSON.stringify(b.notches)
  const equal = a.samples === b.samples && sameNotches && a.notches.length > 0
  return { equal, compared: equal ? a : { a, b } }
}
