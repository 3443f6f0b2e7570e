export { alikeText, type Compared, comparedScans } from './alike.ts'
export {
  type Block,
  type Cell,
  type Column,
  cells,
  type Fact,
  heading,
  list,
  paragraph,
  type Tone,
  tableOr
} from './blocks.ts'
export { type BracketRules, type Happening, openings, type Voided } from './brackets.ts'
export { canonical } from './canonical.ts'
export {
  append,
  asksForAll,
  beginning,
  type Chain,
  chainHash,
  chainOf,
  closingKinds,
  type EntryRow,
  type Hash
} from './chain.ts'
export { clockComplaint } from './clock.ts'
export { openIndications, openReasons } from './closing.ts'
export { type Code, codes } from './codes.ts'
export { seenAsOf } from './decided.ts'
export { type Difference, differences } from './differences.ts'
export { entryId, parseEntry } from './entry.ts'
export type { Adding, Appended } from './growing.ts'
export { bracketRulesOf, type Circumstances, circumstancesBy } from './happenings.ts'
export type { Fault } from './intact.ts'
export { type JoinedIndication, joinScans, type ScanOfPlace } from './joined.ts'
export type { Sighting, Unseen } from './joined-says.ts'
export { entryJsonSchema } from './json-schema.ts'
export type { Disposition, SeenAs } from './kinds/deciding.ts'
export type { After } from './kinds/keeping.ts'
export type { Moment, Signature, Subject } from './kinds/parts.ts'
export { type Entry, type EntryKind, type EntryOf, entrySchema } from './kinds.ts'
export { methodsOf } from './lookups.ts'
export { branchFrom, mergeFacts, sharedBy } from './merging/merge.ts'
export { pastOf } from './merging/order.ts'
export { findings, outcomeOf } from './outcome.ts'
export { hasUnmarked, type PracticePlace } from './practice.ts'
export { type CutFor, cutsIn, type PreparationFor, type Prepared, preparationsIn } from './preparing.ts'
export { choiceOf, type ReamChoice, type ReamLoop, reamChoiceSchema } from './reaming/index.ts'
export { type Replayed, replay, replayFrom, voidsOf } from './replay.ts'
export { reportBlocks } from './report.ts'
export type { Named, ReportInput, Section } from './report-input.ts'
export { holdsPerson } from './rights.ts'
export {
  type Accepted,
  acceptedIn,
  appendShop,
  type Code as ShopCode,
  type DemonstrationEntry,
  demonstrationsIn,
  parseShopEntry,
  registersOf,
  type ShopChain,
  type ShopEntry,
  type ShopEntryOf,
  shopChainOf,
  validationsIn,
  verifyShop
} from './shop/index.ts'
export type { RegistersVerdict, ShopAtHand } from './signers.ts'
export { signatureOf, signedText, type Witness } from './signing.ts'
export {
  type DrawingState,
  type DrawnPlace,
  type ExaminationState,
  type JobState,
  type Nonconformance,
  type PlaceState,
  type PlaceStateName,
  type RecheckState,
  type Redo,
  stateNames,
  type VoidedScan
} from './state.ts'
export {
  type TechniqueSheet,
  techniqueSheetBlocks,
  titleOf as techniqueSheetTitle
} from './technique-sheet/index.ts'
export { type ChainEnd, type MethodDifference, type Verification, type VerifyPorts, verify } from './verify.ts'
export { classOf, isDowngrade, isUndecided, waits } from './waiting.ts'
