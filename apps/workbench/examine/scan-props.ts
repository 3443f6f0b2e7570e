import type { JobSummary, PlaceDetail } from '../asking/client.ts'

export interface BenchProps {
  readonly job: JobSummary
  readonly place: PlaceDetail
}

/** One scan of a place is looked at: the name of its examination. */
export interface ScanProps extends BenchProps {
  readonly scan: string
  setScan(scan: string): void
}
