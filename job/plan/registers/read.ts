import type { Refusal } from '@trueloop/ground/refusal'
import { z } from 'zod'
import { doubles } from '../check/names.ts'
import { refuse } from '../codes.ts'
import { refusalsOf, shown } from '../complaint.ts'
import type { Step } from '../where.ts'
import { checkRow } from './check-row.ts'
import type { Register } from './register.ts'
import { editionOfRow, nameOfRow, type RegisterName, type RegisterRow, type RowOf, registers } from './rows.ts'

/** A file of rows for the registers: a list a register. The program adds what each row is, and a person's key. */

type Unkeyed<Row> = Row extends RowOf<'person'> ? Omit<Row, 'key'> & { readonly key?: Row['key'] } : Row

/** A row as a file has it: of a person, the key may still be missing. */
export type WrittenRow = Unkeyed<RegisterRow>

/** A row with its place in the file. */
export interface PlacedRow {
  readonly row: WrittenRow
  readonly steps: readonly Step[]
}

export type RowsReading = { readonly rows: readonly PlacedRow[] } | { readonly refusals: readonly Refusal[] }

const all = Object.entries(registers) as readonly (readonly [RegisterName, Register<never>])[]

/** A row as a person writes it: without what the list and the program already know. */
function writtenSchema([name, { schema }]: (typeof all)[number]): z.ZodType {
  const bare = schema.omit({ register: true, version: true })
  if (name !== 'person') return bare
  const { key, method } = registers.person.schema.shape
  return bare.extend({ key: key.optional(), method: method.default('eddy current') })
}

const lists = Object.fromEntries(
  all.map((one) => [one[1].list, z.array(writtenSchema(one)).max(10_000).optional()] as const)
)

export const rowsFileSchema = z.strictObject({
  $schema: z.string().max(500).optional().describe('Where an editor finds the JSON Schema; not read'),
  trueloop: z.literal('registers/1').describe('Kind and version of this file'),
  ...lists
})

/**
 * A plain value (as YAML or JSON gives it) read as rows of registers. All complaints are listed, each with its place.
 * Refuses plan/unknown-key, plan/missing-value, plan/bad-value, plan/dates-out-of-order, plan/double-name,
 * plan/unknown-notch.
 */
export function rowsOf(value: unknown): RowsReading {
  const form = (value as { trueloop?: unknown } | null | undefined)?.trueloop
  if (form !== 'registers/1') return { refusals: [noForm(form)] }
  const parsed = rowsFileSchema.safeParse(value)
  if (!parsed.success) return { refusals: refusalsOf(parsed.error.issues, { schema: rowsFileSchema, value }) }
  const rows = all.flatMap((one) => rowsIn(parsed.data as Readonly<Record<string, unknown>>, one))
  const refusals = [...rows.flatMap(({ row, steps }) => checkRow(row as RegisterRow, steps)), ...twice(rows)]
  return refusals.length > 0 ? { refusals } : { rows }
}

const rowsIn = (file: Readonly<Record<string, unknown>>, [register, { list }]: (typeof all)[number]) =>
  ((file[list] ?? []) as readonly object[]).map((one, index) => ({
    row: { register, version: 1, ...one } as WrittenRow,
    steps: [list, index]
  }))

const twice = (rows: readonly PlacedRow[]): readonly Refusal[] =>
  doubles(
    rows.map(({ row }) => [row.register, nameOfRow(row as RegisterRow), editionOfRow(row as RegisterRow)].join(' ')),
    (index) => rows[index]?.steps ?? []
  )

const noForm = (found: unknown): Refusal =>
  refuse(found === undefined ? 'plan/missing-value' : 'plan/bad-value', {
    found: found === undefined ? 'no trueloop' : shown(found),
    needed: '"registers/1", which says what the file is',
    remedy: 'write `trueloop: registers/1` as its first line',
    where: { path: 'trueloop' }
  })

/** A document of a register read back: undefined where it is none. */
export function rowOfDocument(value: unknown): RegisterRow | undefined {
  const name = (value as { register?: unknown } | null | undefined)?.register
  if (typeof name !== 'string' || !Object.hasOwn(registers, name)) return undefined
  const parsed = registers[name as RegisterName].schema.safeParse(value)
  return parsed.success ? (parsed.data as RegisterRow) : undefined
}

/** The published JSON Schema of a file of rows (draft 2020-12). */
export const rowsJsonSchema = (): Record<string, unknown> => ({
  title: 'Registers',
  ...z.toJSONSchema(rowsFileSchema, { io: 'input' })
})
