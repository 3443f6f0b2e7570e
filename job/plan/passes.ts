/**
 * Over how many revolutions a flaw answers: (L + w)/p. Derived; a trade rule of thumb for the expected repeat.
 * @param length_m length of the flaw along the axis, m
 * @param width_m effective width of the probe's footprint along the axis, m
 * @param pitch_m axial advance a revolution, m
 */
export const revolutionsOver = (length_m: number, width_m: number, pitch_m: number): number =>
  (length_m + width_m) / pitch_m
