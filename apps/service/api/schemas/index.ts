export { bringing, drawingRow } from './drawing.ts'
export { storedExamination } from './examination.ts'
export {
  type IntakeFile,
  type IntakeSubject,
  intakeFile,
  uploading,
  type Watching,
  type WatchView,
  watch,
  watching
} from './intake.ts'
export { jobBrief, jobBriefs, jobSummary } from './job.ts'
export { type Pace, pace } from './pace.ts'
export { hash, of, refusals } from './parts.ts'
export { placeDetail } from './place.ts'
export { preview } from './preview.ts'
export { type SessionView, session, signingIn } from './session.ts'
export { type Stated, type Statement, stated, statement } from './statement.ts'
