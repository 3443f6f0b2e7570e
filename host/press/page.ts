import type { Block } from '@trueloop/job/record'

/** A report before it is a file, whatever kind of file. */
export interface Page {
  readonly title: string
  readonly blocks: readonly Block[]
  /** a line that stays in sight, such as that the page is a demonstration */
  readonly stamp?: string
  /** the last line of the page */
  readonly footer?: string
}
