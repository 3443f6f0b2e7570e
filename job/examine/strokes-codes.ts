import { refuser } from '@trueloop/ground/refusal'

/** Why the strokes of a hand feed are refused; to stand in the list of this room when the recipe uses them. */
export const strokeCodes = ['examine/no-strokes', 'examine/strokes-untold'] as const

export const refuse = refuser(strokeCodes)
