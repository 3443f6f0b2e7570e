import type { Base } from '@trueloop/metal/materials'

/** A setting that is put forward: never taken over before a person has confirmed it. */
export interface Proposal {
  readonly base: Base
  readonly frequencies_kHz: { readonly low: number; readonly high: number }
  /** The usual one, where there is one. */
  readonly usual_kHz?: number
  readonly source: string
}

/**
 * Frequencies met for holes, by base metal. One read source for the range; the usual one for aluminum is common practice,
 * from memory.
 */
export const frequencyProposals: readonly Proposal[] = [
  {
    base: 'aluminum',
    frequencies_kHz: { low: 200, high: 500 },
    usual_kHz: 500,
    source: 'range: bolt-hole-study-1, p. 52; 500 kHz: common practice, no source'
  },
  {
    base: 'stainless steel',
    frequencies_kHz: { low: 500, high: 1000 },
    source: 'bolt-hole-study-1, p. 52'
  },
  {
    base: 'titanium',
    frequencies_kHz: { low: 1000, high: 2000 },
    source: 'bolt-hole-study-1, p. 52'
  }
]

export const proposalFor = (base: Base | undefined): Proposal | undefined =>
  frequencyProposals.find((one) => one.base === base)
