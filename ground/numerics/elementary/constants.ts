/** The circle constants as the nearest doubles. */
// biome-ignore lint/suspicious/noApproximativeNumericConstant: bits of our own, not the engine's
export const PI = 3.141592653589793
export const TAU = 2 * PI
