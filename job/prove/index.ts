/** What size of flaw the whole system finds, and how well people and instruments agree. */
export * from './blind/index.ts'
export { type Code, codes, refuse } from './codes.ts'
