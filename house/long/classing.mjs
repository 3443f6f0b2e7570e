/** What is really there against what it is classed as. */
import { generatedTrial } from './generated/crew.mjs'

export const title = 'true kind by class over every kind that the generator has'

export const run = generatedTrial('classing')
