import type { Result } from '@trueloop/ground/refusal'
import type { JobBrief, JobSummary, PlaceDetail, Preview, ShownDrawing, StoredExamination } from '@trueloop/host/chain'

/**
 * Where the pages and the interface for programs take the record from. Each call reads what is there now. `reader`: who has
 * signed in; some techniques ask for their class before anything is told (see `Blind`).
 */
export interface RecordSource {
  jobs(reader?: string): Promise<Result<readonly JobBrief[]>>
  /** undefined where there is no such job */
  job(id: string, reader?: string): Promise<Result<JobSummary | undefined>>
  place(job: string, place: Pick<PlaceDetail, 'of' | 'name'>, reader?: string): Promise<Result<PlaceDetail | undefined>>
  examination(job: string, hash: string, reader?: string): Promise<Result<StoredExamination | undefined>>
  /** the signal of a hole as its examination judged it, unrolled, in the form `wall/1` */
  wall(job: string, hash: string): Promise<Result<Uint8Array | undefined>>
  /** all that a page needs to examine a recording by itself, but for its bytes */
  preview(job: string, hash: string, reader?: string): Promise<Result<Preview | undefined>>
  /** text of a document that the record names */
  document(job: string, hash: string, reader?: string): Promise<Result<string | undefined>>
  /** path of an original that the record names */
  recording(job: string, hash: string): Promise<Result<string | undefined>>
  /** a drawing of the component: its form, and the path of its bytes */
  drawing(job: string, hash: string): Promise<Result<ShownDrawing | undefined>>
  /** the report as a whole HTML document */
  report(id: string): Promise<Result<string | undefined>>
  /** called when the service closes */
  close?(): Promise<void>
}
