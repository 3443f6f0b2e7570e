import { z } from 'zod'

/**
 * One number a person states, declared once: unit, range, what it is for and why the range is what it is.
 * The declaration gives range check, JSON Schema, form field, flag and report line. The key it stands under carries the
 * unit (`depth_mm`), because a JSON key is where types don't reach.
 */
export interface Declared {
  readonly unit: string
  readonly least: number
  readonly most: number
  readonly help: string
  readonly why: string
}

export const parameter = (declared: Declared) =>
  z
    .number()
    .min(declared.least)
    .max(declared.most)
    .describe(declared.help)
    .meta({ unit: declared.unit, why: declared.why })

export const text = (help: string) => z.string().min(1).max(500).describe(help)

/** A calendar day as ISO 8601 writes it: 2026-03-14. */
export const day = (help: string) =>
  z
    .string()
    .regex(/^\d{4}-(0[1-9]|1[0-2])-(0[1-9]|[12]\d|3[01])$/, 'a day is written as 2026-03-14')
    .describe(help)
