export { type Code, codes } from './codes.ts'
export type { Placer, SheetFile } from './read.ts'
export { readSheetFile, readSheetText } from './read.ts'
export { sheetText } from './write.ts'
