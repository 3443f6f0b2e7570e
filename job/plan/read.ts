import type { Refusal } from '@trueloop/ground/refusal'
import type { z } from 'zod'
import { checkSheet } from './check.ts'
import { refuse } from './codes.ts'
import { refusalsOf, shown } from './complaint.ts'
import { holeSheetSchema, loopSheetSchema, type Sheet, weldSheetSchema } from './sheet.ts'
import type { Step } from './where.ts'

const schemas = { 'fastener hole': holeSheetSchema, weld: weldSheetSchema, loop: loopSheetSchema } as const

/** A sheet, or every reason why it is none. */
export type SheetReading = { readonly sheet: Sheet } | { readonly refusals: readonly Refusal[] }

/**
 * A plain value (as YAML or JSON gives it) read as a job sheet: the schema first, then what only the whole shows
 * (`checkSheet`). All complaints are listed, each with its place in `where.path`; unknown keys don't hide the rest.
 * Refuses with every code of the room but plan/not-confirmed (an unconfirmed sheet may be planned with).
 */
export function sheetOf(value: unknown): SheetReading {
  const schema = schemaFor(value)
  if (schema === undefined) return { refusals: [noApplication(value)] }
  const parsed = schema.safeParse(value)
  if (parsed.success) return withChecks(parsed.data)
  const refusals = refusalsOf(parsed.error.issues, { schema, value })
  const rest = schema.safeParse(without(value, parsed.error.issues))
  return { refusals: [...refusals, ...(rest.success ? checkSheet(rest.data) : [])] }
}

function withChecks(sheet: Sheet): SheetReading {
  const refusals = checkSheet(sheet)
  return refusals.length === 0 ? { sheet } : { refusals }
}

const applicationOf = (value: unknown): unknown => {
  const technique = (value as { technique?: unknown } | null | undefined)?.technique
  return (technique as { application?: unknown } | null | undefined)?.application
}

const schemaFor = (value: unknown): z.ZodType<Sheet> | undefined => {
  const application = applicationOf(value)
  return typeof application === 'string' && Object.hasOwn(schemas, application)
    ? schemas[application as keyof typeof schemas]
    : undefined
}

function noApplication(value: unknown): Refusal {
  const found = applicationOf(value)
  return refuse(found === undefined ? 'plan/missing-value' : 'plan/bad-value', {
    found: found === undefined ? 'no technique.application' : shown(found),
    needed: `one of ${Object.keys(schemas).map(shown).join(', ')}, which decides how the rest is read`,
    remedy: 'state the application of the technique',
    where: { path: 'technique.application' }
  })
}

/** A copy without the keys that nobody knows, so that what they stand beside can be looked at all the same. */
function without(value: unknown, issues: readonly z.core.$ZodIssue[]): unknown {
  const copy: unknown = JSON.parse(JSON.stringify(value))
  for (const issue of issues) {
    if (issue.code !== 'unrecognized_keys') continue
    const place = (issue.path as Step[]).reduce<unknown>((at, step) => (at as Record<Step, unknown>)[step], copy)
    for (const key of issue.keys) delete (place as Record<string, unknown>)[key]
  }
  return copy
}
