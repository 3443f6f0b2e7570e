import type { EntryRow, JobState } from '@trueloop/job/record'
import type { Source } from './contents.ts'
import type { Measured } from './measure.ts'
import type { NamedByRecord } from './named.ts'
import type { ProgramName } from './text/job-json.ts'

/** A bundle that was opened and found sound: chain, documents, originals, list. It can be read like an archive. */
export interface Bundle extends Source {
  readonly file: string
  readonly job: string
  readonly count: number
  readonly head: string
  readonly rows: readonly EntryRow[]
  readonly state: JobState
  readonly named: NamedByRecord
  /** the program that wrote it */
  readonly program: ProgramName
  /** what each file in it was found to be, by name */
  readonly measured: ReadonlyMap<string, Measured>
  /**
   * files that this program would write otherwise from the same record: report, schemas, page to read first. Where
   * another version wrote them that is no wonder; where this one did, somebody changed them.
   */
  readonly otherwise: readonly string[]
  close(): Promise<void>
}
