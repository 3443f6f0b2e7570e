import type { Result } from '@trueloop/ground/refusal'
import type { JobBrief, JobSummary } from '@trueloop/host/chain'

/** Where the pages take the record from. Each call reads what is there now. */
export interface RecordSource {
  jobs(): Promise<Result<readonly JobBrief[]>>
  /** undefined where there is no such job */
  job(id: string): Promise<Result<JobSummary | undefined>>
  /** the report as a whole HTML document */
  report(id: string): Promise<Result<string | undefined>>
}
