/** Holes without a flaw: as many are indicated by noise alone as the examinations state. */
import { generatedTrial } from './generated/crew.mjs'

export const title =
  '20 000 generated holes without a flaw: the seen false-call rate inside the 99 % interval of the stated one'

export const run = generatedTrial('blanks')
