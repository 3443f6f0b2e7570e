export { signatureHolds as holds } from '../hash/index.ts'
export { type Code, codes } from './codes.ts'
export {
  changePassphrase,
  type Key,
  type KeyPlace,
  keyFileOf,
  type Making,
  makeKey,
  type Signer,
  unlock,
  type WhichKey
} from './keys.ts'
export { checkPassphrase, fewestCharacters } from './passphrase.ts'
export { type SigningOver, signedEntry } from './signed-entry.ts'
export { type Cost, cost } from './stretch.ts'
