export { type Code, codes } from './codes.ts'
export {
  dueText,
  type FoundPerson,
  keysFolder,
  openKey,
  registeredPerson,
  type Signatory,
  type SigningPerson,
  signatories,
  signerFor,
  type Unlocking
} from './signer.ts'
