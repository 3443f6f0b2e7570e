import type { JobState } from '@trueloop/job/record'
import type { Measured } from '../measure.ts'
import { version } from '../names.ts'

export interface Listed extends Measured {
  readonly name: string
}

export interface ProgramName {
  readonly name: string
  readonly version: string
}

/** What `job.json` says, as one text: kind and version, the job, the end of its chain, who wrote it, and all files. */
export const jobJson = (state: JobState, program: ProgramName, files: readonly Listed[]): string =>
  `${JSON.stringify(
    {
      trueloop: version,
      about: 'The whole record of one job of eddy-current testing. READ-ME-FIRST.txt says how to read and check it.',
      job: state.opened.job.id,
      component: state.opened.job.component,
      demonstration: state.opened.job.demonstration,
      count: state.count,
      head: state.head,
      program: { name: program.name, version: program.version },
      files: files.map(({ name, bytes, sha256 }) => ({ name, bytes, sha256 }))
    },
    null,
    1
  )}\n`

/** The list that `sha256sum -c` takes. */
export const sumsText = (files: readonly Listed[]): string =>
  files.map(({ name, sha256 }) => `${sha256}  ${name}\n`).join('')
