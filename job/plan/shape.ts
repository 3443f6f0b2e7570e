import { z } from 'zod'
import type { Step } from './where.ts'

/** What the declaration says about a place in a sheet: its keys, help, unit and range. For messages only. */

const inner = (schema: z.ZodType): z.ZodType =>
  schema instanceof z.ZodOptional || schema instanceof z.ZodDefault ? inner(schema.unwrap() as z.ZodType) : schema

const optionsOf = (schema: z.ZodType): readonly z.ZodType[] =>
  schema instanceof z.ZodUnion
    ? (schema.options as readonly z.ZodType[]).flatMap((one) => optionsOf(inner(one)))
    : [schema]

/** Of several forms, the one whose named key (`of`, `application`) holds the very value found; else all. */
function fitting(options: readonly z.ZodType[], value: unknown): readonly z.ZodType[] {
  const some = options.filter((option) => {
    if (!(option instanceof z.ZodObject) || typeof value !== 'object' || value === null) return false
    return Object.entries(option.shape).some(
      ([key, part]) => part instanceof z.ZodLiteral && part.values.has((value as Record<string, never>)[key] as never)
    )
  })
  return some.length > 0 ? some : options
}

const stepInto = (schema: z.ZodType, step: Step): readonly z.ZodType[] => {
  if (schema instanceof z.ZodObject) {
    const part = (schema.shape as Record<string, z.ZodType>)[step]
    return part === undefined ? [] : [part]
  }
  return schema instanceof z.ZodArray && typeof step === 'number' ? [schema.element as z.ZodType] : []
}

const valueAt = (value: unknown, step: Step): unknown =>
  typeof value === 'object' && value !== null ? (value as Record<Step, unknown>)[step] : undefined

/** The declarations that stand at a place, outer wrappers (optional, default) still on. */
export function declaredAt(schema: z.ZodType, steps: readonly Step[], value: unknown): readonly z.ZodType[] {
  let here: readonly z.ZodType[] = [schema]
  let found = value
  for (const step of steps) {
    here = here.flatMap((one) => fitting(optionsOf(inner(one)), found)).flatMap((one) => stepInto(one, step))
    found = valueAt(found, step)
  }
  return here
}

/** Keys that may stand in the object at a place. */
export const keysAt = (schema: z.ZodType, steps: readonly Step[], value: unknown): readonly string[] => {
  const found = steps.reduce(valueAt, value)
  const objects = declaredAt(schema, steps, value).flatMap((one) => fitting(optionsOf(inner(one)), found))
  return [...new Set(objects.flatMap((one) => (one instanceof z.ZodObject ? Object.keys(one.shape) : [])))]
}

/** The help text of a place, with its unit; empty where nothing is declared. */
export function helpAt(schema: z.ZodType, steps: readonly Step[], value: unknown): string {
  for (const one of declaredAt(schema, steps, value)) {
    const help = one.description ?? inner(one).description
    const unit = (inner(one).meta() as { unit?: string } | undefined)?.unit
    if (help !== undefined) return unit === undefined || unit === '1' ? help : `${help}, in ${unit}`
  }
  return ''
}
