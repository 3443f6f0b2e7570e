export { correctClock } from './clock.ts'
export { type Code, codes } from './codes.ts'
export {
  approveTechnique,
  attachCapability,
  closePlaces,
  cutHole,
  type Decided,
  type Deciding,
  decide,
  leaveOut,
  lookAgain,
  markPractice,
  note,
  type OfJob,
  state,
  takeOver,
  withdraw
} from './decide.ts'
export { bringDrawing, type Drawn, drawPlaces } from './drawing.ts'
export { type Signing, signersDocument } from './signer.ts'
