export { daysFrom, isDay, type Moment as WallMoment, momentOf } from './calendar.ts'
export { checkConfirmed } from './check/people.ts'
export { checkSheet } from './check.ts'
export type { Code } from './codes.ts'
export { codes, refuse } from './codes.ts'
export { refusalsOf as schemaRefusals } from './complaint.ts'
export { type OtherSetUp, setUpAfter, setUpOfRecording, sheetFor } from './confirming.ts'
export {
  type NamedDocument,
  namedDocuments,
  notTheForm,
  type Responses,
  responsesOf,
  withDocument
} from './documents.ts'
export {
  type DrawingForm,
  type DrawingMark,
  drawingForm,
  drawingForms,
  FORM_BYTES,
  type SheetDrawing
} from './drawing.ts'
export { bandFromFootprint, bellWidth } from './footprint.ts'
export { sheetJsonSchema } from './json-schema.ts'
export { type DayOfRecording, dueNotes, type LookedUp, lookUp, type Use, usesOf } from './looked-up/index.ts'
export { type Magnetism, magnetismOf } from './magnetism.ts'
export { revolutionsOver } from './passes.ts'
export { type MeasuredHole, measuredOf, type OversizeLimit, type Preparation } from './preparation.ts'
export {
  checkResponse,
  type ResponseDocument,
  type ResponseRatio,
  type ResponseReading,
  type ResponseStudy,
  responseOf,
  responseRatioSchema,
  responseStudySchema
} from './ratio/index.ts'
export type { SheetReading } from './read.ts'
export { sheetOf } from './read.ts'
export { type PermittedSize, permittedSizeSchema, type ReamRules, reamRulesSchema } from './reaming.ts'
export { type HappeningName, happeningNames, type RecheckRules } from './rechecking.ts'
export {
  checkRow,
  type Due,
  dueOn,
  dueWithin_days,
  type Entered,
  editionOfRow,
  type GaugeRow,
  type Held,
  heldOn,
  historyOf,
  type InstrumentRow,
  nameOfRow,
  namesIn,
  noRegisters,
  type PersonRow,
  type PlacedRow,
  type ProbeRow,
  type ProcedureRow,
  personRowSchema,
  publicKeySchema,
  type ReferenceStandardRow,
  type Registered,
  type RegisterName,
  type RegisterRow,
  type Registers,
  type RowOf,
  type RowsReading,
  registerNames,
  registerRowSchema,
  rowOfDocument,
  rowsFileSchema,
  rowsJsonSchema,
  rowsOf,
  type SpanStanding,
  type StandingName,
  type StruckOff,
  shopChain,
  standingOf,
  standingsOn,
  type WrittenRow
} from './registers/index.ts'
export * from './settings/index.ts'
export type { Columns, Hole, HoleSheet, LoopSheet, Sheet, WeldSheet } from './sheet.ts'
export { columnsSchema, holeSheetSchema, loopSheetSchema, sheetSchema, weldSheetSchema } from './sheet.ts'
export type { Demagnetized, HoleStandard, Notch, Slot, WeldStandard } from './standard.ts'
export { holeStandardSchema, weldStandardSchema } from './standard.ts'
export type {
  Confirmation,
  Equipment,
  EquipmentChange,
  HoleTechnique,
  LoopTechnique,
  Person,
  Technique,
  WeldTechnique
} from './technique.ts'
export { equipmentWith, techniqueSchema } from './technique.ts'
export { checkWeldPlan, type WeldPlanning, weldSpeedLimit } from './weld/check.ts'
export { laneDrawing } from './weld/drawing.ts'
export { FITNESS, type FitnessLimit, type FitnessTrend, fitnessLimits, fitnessTrend, unfit } from './weld/fitness.ts'
export { gapsIn, lanesNotExamined, type Strip, stripsOf } from './weld/lanes.ts'
export { type Lane, type ProbeFitness, probeFitnessSchema, type WeldPlan, weldPlanSchema } from './weld/schema.ts'
export type { Step } from './where.ts'
export { pathSteps, pathText } from './where.ts'
