export { storedExamination } from './examination.ts'
export { jobBrief, jobBriefs, jobSummary } from './job.ts'
export { hash, of, refusals } from './parts.ts'
export { placeDetail } from './place.ts'
