export * from './entries.ts'
export { inventedReport } from './invented.ts'
export { type Invented, invent, personStored, signedBy, witnessOf } from './people.ts'
export { plain } from './plain.ts'
