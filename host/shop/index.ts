export { type Code, codes } from './codes.ts'
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
