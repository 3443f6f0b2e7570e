export { dueNotes, type LookedUp, lookUp } from './look-up.ts'
export { type DayOfRecording, type Use, usesOf } from './uses.ts'
