/**
 * A probe as its windings are: flaws then answer as the field has it. Lengths in m; the pick-ups are two halves of a round
 * winding, split along the axis of the hole, one ahead of the other around it.
 */
export interface FieldProbe {
  readonly frequency_Hz: number
  readonly metal: { readonly conductivity_S_per_m: number; readonly permeability: number }
  readonly driver: FieldWinding
  readonly pickUps: FieldWinding
  /** The notch whose peak-to-peak is 1: it gives the unit of all signals. */
  readonly unit: FieldFlaw
}

export interface FieldWinding {
  readonly inner_m: number
  readonly outer_m: number
  readonly length_m: number
  readonly turns: number
  readonly lift_off_m: number
}

/** A closed flaw as the model takes it. A quarter ellipse is deepest where it touches its face. */
export interface FieldFlaw {
  readonly outline: 'half ellipse' | 'quarter ellipse'
  readonly depth_m: number
  readonly length_m: number
}
