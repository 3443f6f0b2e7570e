/** Trade units of the sheet and SI of the rooms that compute. */
export const radiansToDegrees = (angle: number): number => (angle * 180) / Math.PI
export const meters = (mm: number): number => mm * 1e-3
