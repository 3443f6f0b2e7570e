import type { Result } from '@trueloop/ground/refusal'
import type { JobBrief, JobSummary, PlaceDetail, StoredExamination } from '@trueloop/host/chain'

/** Where the pages and the interface for programs take the record from. Each call reads what is there now. */
export interface RecordSource {
  jobs(): Promise<Result<readonly JobBrief[]>>
  /** undefined where there is no such job */
  job(id: string): Promise<Result<JobSummary | undefined>>
  place(job: string, place: Pick<PlaceDetail, 'of' | 'name'>): Promise<Result<PlaceDetail | undefined>>
  examination(job: string, hash: string): Promise<Result<StoredExamination | undefined>>
  /** the report as a whole HTML document */
  report(id: string): Promise<Result<string | undefined>>
}
