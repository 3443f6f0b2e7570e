export { validationBlocks } from './blocks.ts'
export type { Check } from './figures.ts'
export { type Validation, validate } from './validate.ts'
