import { isRefusal, type Refusal } from '@trueloop/ground/refusal'
import { program } from '@trueloop/host/chain'
import { wallClock } from '@trueloop/host/clock'
import { sha256 } from '@trueloop/host/hash'
import type { Settings, Sheet } from '@trueloop/job/plan'
import { canonical, type TechniqueSheet } from '@trueloop/job/record'

/** The technique of a job sheet as paper, with what was worked out for it or why nothing was. */
export const techniqueSheetOf = (sheet: Sheet, settings: Settings | Refusal): TechniqueSheet => ({
  sheet,
  document: sha256(canonical(sheet.technique)),
  program,
  printed: wallClock(),
  ...(isRefusal(settings) ? { why: `Found ${settings.found}; needed ${settings.needed}.` } : { settings })
})
