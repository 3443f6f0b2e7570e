import type { Sheet } from '@trueloop/job/plan'
import { stringify } from 'yaml'

/** A job sheet as YAML, with a comment as its first line. */
export const sheetText = (sheet: Sheet, comment: string): string =>
  `# ${comment}\n${stringify(sheet, { lineWidth: 120, aliasDuplicateObjects: false })}`
