import type { Analysis } from './trial.ts'

/** How many places a trial should have, as far as anybody says; a person decides. */
export interface ProposedCounts {
  readonly flaws: number
  /** Blanks for each flaw. */
  readonly blanksForFlaws: number
  readonly source: string
}

/** 60 flaws for hits and misses, 40 for signals, 29 of one size that all have to be found (90 % with 95 % confidence). */
export const proposedCounts = (analysis: Analysis): ProposedCounts => {
  if (analysis === 'demonstration') return { flaws: 29, blanksForFlaws: 0, source: '0.9^29 = 0.047, exact' }
  const flaws = analysis === 'hit/miss' ? 60 : 40
  return { flaws, blanksForFlaws: 3, source: 'MIL-HDBK-1823A, from memory' }
}
