export { proposalOf } from './proposal.ts'
export { type Measured, type SizeStatement, sizeOf } from './size.ts'
