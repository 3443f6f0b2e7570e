export { checkRow } from './check-row.ts'
export type { GaugeRow } from './gauge.ts'
export type { InstrumentRow } from './instrument.ts'
export { type PersonRow, personRowSchema, publicKeySchema } from './person.ts'
export type { ProbeRow } from './probe.ts'
export type { ProcedureRow } from './procedure.ts'
export {
  type PlacedRow,
  type RowsReading,
  rowOfDocument,
  rowsFileSchema,
  rowsJsonSchema,
  rowsOf,
  type WrittenRow
} from './read.ts'
export type { ReferenceStandardRow } from './reference-standard.ts'
export {
  type Due,
  dueOn,
  type Entered,
  type Held,
  heldOn,
  historyOf,
  namesIn,
  noRegisters,
  type Registered,
  type Registers,
  type StruckOff
} from './registers.ts'
export {
  editionOfRow,
  nameOfRow,
  type RegisterName,
  type RegisterRow,
  type RowOf,
  registerNames,
  registerRowSchema
} from './rows.ts'
export { shopChain } from './shop-chain.ts'
export { dueWithin_days, type SpanStanding, type StandingName, standingOf, standingsOn } from './standing.ts'
