import { z } from 'zod'
import { gaugeRowSchema, gauges } from './gauge.ts'
import { instrumentRowSchema, instruments } from './instrument.ts'
import { people, personRowSchema } from './person.ts'
import { probeRowSchema, probes } from './probe.ts'
import { procedureRowSchema, procedures } from './procedure.ts'
import { referenceStandardRowSchema, referenceStandards } from './reference-standard.ts'
import type { Register, Span } from './register.ts'

/** Every register. A new one is a file and a line here. */
export const registers = {
  person: people,
  instrument: instruments,
  probe: probes,
  'reference standard': referenceStandards,
  gauge: gauges,
  procedure: procedures
} as const

export const registerRowSchema = z.discriminatedUnion('register', [
  personRowSchema,
  instrumentRowSchema,
  probeRowSchema,
  referenceStandardRowSchema,
  gaugeRowSchema,
  procedureRowSchema
])

/** A row of a register: an immutable document, named by the hash of its canonical JSON. */
export type RegisterRow = z.output<typeof registerRowSchema>
export type RegisterName = RegisterRow['register']
export type RowOf<Name extends RegisterName> = Extract<RegisterRow, { readonly register: Name }>

export const registerNames = Object.keys(registers) as readonly RegisterName[]

const registerOf = (row: RegisterRow): Register<never> => registers[row.register]

/** What a row is about: name of the person, serial number, number of the procedure. */
export const nameOfRow = (row: RegisterRow): string => registerOf(row).nameOf(row as never)

export const editionOfRow = (row: RegisterRow): string => registerOf(row).editionOf(row as never)

export const spansOfRow = (row: RegisterRow): readonly Span[] => registerOf(row).spansOf(row as never)
