import type { Refusal } from '@trueloop/ground/refusal'
import type { z } from 'zod'
import { refuse } from '../codes.ts'
import { refusalsOf, shown } from '../complaint.ts'
import { type ResponseRatio, type ResponseStudy, responseRatioSchema, responseStudySchema } from './schema.ts'

export type ResponseDocument = ResponseRatio | ResponseStudy

/** A document, or every reason why it is none. */
export type ResponseReading = { readonly document: ResponseDocument } | { readonly refusals: readonly Refusal[] }

const schemas = { 'response-ratio/1': responseRatioSchema, 'response-study/1': responseStudySchema } as const

/**
 * A plain value (as YAML or JSON gives it) read as a document of how cracks answer: schema, then ranges the right way
 * round and a spread below the ratio. Refuses plan/unknown-key, plan/missing-value, plan/bad-value.
 */
export function responseOf(value: unknown): ResponseReading {
  const form = formOf(value)
  const schema: z.ZodType<ResponseDocument> | undefined =
    typeof form === 'string' && Object.hasOwn(schemas, form) ? schemas[form as keyof typeof schemas] : undefined
  if (schema === undefined) return { refusals: [noForm(form)] }
  const parsed = schema.safeParse(value)
  if (!parsed.success) return { refusals: refusalsOf(parsed.error.issues, { schema, value }) }
  const refusals = checkResponse(parsed.data)
  return refusals.length > 0 ? { refusals } : { document: parsed.data }
}

const formOf = (value: unknown): unknown => (value as { trueloop?: unknown } | null | undefined)?.trueloop

const noForm = (found: unknown): Refusal =>
  refuse(found === undefined ? 'plan/missing-value' : 'plan/bad-value', {
    found: found === undefined ? 'no trueloop' : shown(found),
    needed: `one of ${Object.keys(schemas).map(shown).join(', ')}, which says what the document is`,
    remedy: 'state what the document is',
    where: { path: 'trueloop' }
  })

/** What only the whole document shows. */
export function checkResponse(document: ResponseDocument): readonly Refusal[] {
  return [
    ...upsideDown('frequency_kHz', document.frequency_kHz),
    ...upsideDown('depth_mm', document.depth_mm),
    ...doubledKinds(document),
    ...('ratio' in document ? spreadTooLarge(document) : [])
  ]
}

function upsideDown(path: string, { least, most }: { readonly least: number; readonly most: number }) {
  if (least <= most) return []
  const needed = 'a range from its smaller to its larger value'
  return [bad(path, { found: `${least} to ${most}`, needed, remedy: 'exchange least and most' })]
}

const doubledKinds = ({ kinds }: ResponseDocument): readonly Refusal[] =>
  new Set(kinds).size === kinds.length
    ? []
    : [bad('kinds', { found: kinds.join(', '), needed: 'each kind once', remedy: 'leave out what stands twice' })]

const spreadTooLarge = ({ ratio, spread }: ResponseRatio): readonly Refusal[] =>
  spread < ratio
    ? []
    : [
        bad('spread', {
          found: `a spread of ${spread} for a ratio of ${ratio}`,
          needed: 'a spread below the ratio itself',
          remedy: 'find the ratio on more cracks, or for each kind by itself'
        })
      ]

const bad = (path: string, reason: Omit<Parameters<typeof refuse>[1], 'where'>): Refusal =>
  refuse('plan/bad-value', { ...reason, where: { path } })
