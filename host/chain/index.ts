export { type Added, type Adding, examineAdded } from './added.ts'
export { type Evidence, reexamine } from './again.ts'
export { alikeIn } from './alike.ts'
export { type Checking, checkJob } from './check.ts'
export { type Code, codes } from './codes.ts'
export type { ChainInput, Progress } from './context.ts'
export { drawingIn, keepDrawing, mostDrawingBytes, type ShownDrawing } from './drawings.ts'
export { type Opened, openJob, unconfirmed } from './open.ts'
export { briefsOf, type JobBrief, overviewOf } from './overview.ts'
export { keepPicture, pictureOf } from './pictures.ts'
export { type PlaceDetail, placeIn, placeOf } from './place.ts'
export { documentIn, originalIn, type Preview, previewIn } from './preview.ts'
export {
  type Documents,
  pdfWithRecord,
  plainReportInput,
  program,
  type Report,
  reportHtml,
  reportInput,
  reportOf,
  reportPdf
} from './report.ts'
export { runChain } from './run.ts'
export { abortable, bytesOf, headFrom } from './source.ts'
export { examinationIn, type StoredExamination } from './stored.ts'
export { type DrawingRow, type JobSummary, type PlaceRow, summaryOf } from './summary.ts'
export type { ChainRun, Outcome, Wanted } from './walk.ts'
export { wallIn } from './walls.ts'
