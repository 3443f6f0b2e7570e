export { techniqueSheetBlocks, titleOf } from './blocks.ts'
export type { TechniqueSheet } from './input.ts'
