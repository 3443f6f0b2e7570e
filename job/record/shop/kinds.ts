import { z } from 'zod'
import { registerNames } from '../../plan/index.ts'
import { parserOf } from '../entry.ts'
import { hashSchema, headSchema, signatureSchema } from '../kinds/parts.ts'

/** Kinds of entries of the shop's own record. All of them are signed: a register is worth what its people are. */

const entered = {
  what: z.enum(registerNames as [string, ...string[]] as [(typeof registerNames)[number]]),
  name: z.string().min(1).max(500)
}

const dayText = z.string().regex(/^\d{4}-\d\d-\d\d$/)

/** The first entry: a person of Level III registers themself, by the row of that document. */
export const shopOpened = z.strictObject({
  kind: z.literal('shop-opened'),
  version: z.literal(1),
  ...headSchema,
  name: entered.name,
  document: hashSchema,
  signed: signatureSchema
})

/** A row now stands in a register; of its edition it takes the place of the one before. */
export const registered = z.strictObject({
  kind: z.literal('registered'),
  version: z.literal(1),
  ...headSchema,
  ...entered,
  document: hashSchema,
  signed: signatureSchema
})

/** From a day on, something no longer stands in a register. The rows stay readable. */
export const struckOff = z.strictObject({
  kind: z.literal('struck-off'),
  version: z.literal(1),
  ...headSchema,
  ...entered,
  from: dayText,
  reason: z.string().min(1).max(2000),
  signed: signatureSchema
})

/** A key is lost, or may be known to others: another person of Level III puts a new one in its place. */
export const keyReplaced = z.strictObject({
  kind: z.literal('key-replaced'),
  version: z.literal(1),
  ...headSchema,
  name: entered.name,
  /** the row with the key that no longer holds */
  old: hashSchema,
  /** the same row with the new key */
  document: hashSchema,
  reason: z.string().min(1).max(2000),
  signed: signatureSchema
})

const methods = z.strictObject({
  'fastener hole': z.number().int(),
  weld: z.number().int(),
  loop: z.number().int()
})

/** The shipped set was run on a machine. What came out is the document; whether all of it held is said here too. */
export const installationValidated = z.strictObject({
  kind: z.literal('installation-validated'),
  version: z.literal(1),
  ...headSchema,
  document: hashSchema,
  program: z.strictObject({ name: z.string().min(1), version: z.string().min(1) }),
  platform: z.string().min(1),
  methods,
  passed: z.boolean(),
  signed: signatureSchema
})

/** A Level III accepts a method of examination, on the strength of a validation that held. */
export const methodAccepted = z.strictObject({
  kind: z.literal('method-accepted'),
  version: z.literal(1),
  ...headSchema,
  application: z.enum(['fastener hole', 'weld', 'loop']),
  method: z.number().int(),
  /** id of the entry by which it was recorded */
  validation: z.string().min(1),
  signed: signatureSchema
})

/** A demonstration by counting, as it was planned, before its first flaw is examined: its time is that of this entry. */
export const demonstrationPlanned = z.strictObject({
  kind: z.literal('demonstration-planned'),
  version: z.literal(1),
  ...headSchema,
  name: entered.name,
  document: hashSchema,
  signed: signatureSchema
})

/** Its verdict, once. The document has every look. */
export const demonstrationJudged = z.strictObject({
  kind: z.literal('demonstration-judged'),
  version: z.literal(1),
  ...headSchema,
  name: entered.name,
  /** document of the plan */
  plan: hashSchema,
  verdict: z.enum(['demonstrated', 'not demonstrated']),
  document: hashSchema,
  signed: signatureSchema
})

/** Every kind in every version that was ever written. A new one is added; an old one never leaves. */
export const shopKinds = [
  shopOpened,
  registered,
  struckOff,
  keyReplaced,
  installationValidated,
  methodAccepted,
  demonstrationPlanned,
  demonstrationJudged
] as const

export const shopEntrySchema = z.discriminatedUnion('kind', shopKinds)

export type ShopEntry = z.output<typeof shopEntrySchema>
export type ShopEntryOf<Kind extends ShopEntry['kind']> = Extract<ShopEntry, { readonly kind: Kind }>

/** Reads an entry of the shop's record. Refuses `record/unknown-kind` and `record/bad-entry`. */
export const parseShopEntry = parserOf(shopKinds, shopEntrySchema)
