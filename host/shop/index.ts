export { type Code, codes } from './codes.ts'
export {
  demonstrationsOf,
  type JudgedDemonstration,
  judgeStored,
  lookAtPlan,
  type StoredDemonstration,
  storedPlan,
  storePlan
} from './demonstrations.ts'
export { checkShop, readShop, registersIn, type Shop } from './shop.ts'
export {
  appendStated,
  type RegisteredRows,
  type Replacing,
  registerRows,
  replaceKey,
  type ShopDraft,
  type Stating,
  strikeOff
} from './write.ts'
