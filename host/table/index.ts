export { type Code, codes } from './codes.ts'
export { columnOf, readTable, type Table, type TableRow, tableOf } from './read.ts'
export { type Cells, tableText } from './write.ts'
