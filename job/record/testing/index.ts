export * from './entries.ts'
export { inventedReport } from './invented.ts'
export { plain } from './plain.ts'
