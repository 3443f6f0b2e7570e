/** A value read in the named source is confirmed; one from memory is proposed until a person confirms it. */
export type Standing = 'confirmed' | 'proposed'

/** A property with its limits, each as good as it says. Limits are absent where none is known, not where none exist. */
export interface Stated {
  readonly value?: number
  readonly low?: number
  readonly high?: number
  readonly standing: Standing
  /** Standing of low and high, where it is not that of the value. */
  readonly limits?: Standing
  /** Key of a work and the place in it, or `from memory`. */
  readonly source: string
}

export type Base = 'aluminum' | 'copper' | 'magnesium' | 'noble' | 'nickel' | 'titanium' | 'stainless steel' | 'steel'

export interface Material {
  readonly name: string
  readonly base: Base
  /** At 20 °C. */
  readonly conductivity_IACS: Stated
  /** Relative, at small fields. */
  readonly permeability: Stated
}
