import type { ClassSaid, Disposition } from '../asking/statements.ts'

export const dispositions: readonly Disposition[] = ['no recordable indication', 'clean-up ream', 'reject', 'refer']

/** In the order of their weight: what stands further on than the proposed one takes it down. */
export const classes: readonly ClassSaid[] = ['relevant', 'damage, not a crack', 'nonrelevant', 'false']
