/** The smallest flaw found in nine of ten, ours and by the vertical-amplitude habit on the same recordings. */
import { generatedTrial } from './generated/crew.mjs'

export const title =
  'smallest generated flaw found in nine of ten at one false call in 200 holes: at least 30 % below the habit'

export const run = generatedTrial('smallest')
