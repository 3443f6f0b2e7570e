import type { Refusal } from '@trueloop/ground/refusal'
import { z } from 'zod'
import { schemaRefusals } from '../../plan/index.ts'
import type { GivenCall } from '../agreement/calls.ts'
import { refuse } from '../codes.ts'
import type { TrialRow as GivenLook } from '../demonstration/judge.ts'
import type { GivenRow } from '../rows.ts'
import type { GivenSignalRow } from '../signal/rows.ts'
import { checkTrial } from './check.ts'
import {
  type Answers,
  type FlawKind,
  flawKinds,
  type RunningTrial,
  siteSchema,
  type TrialInput,
  trialInputSchema
} from './trial.ts'

type Refused = { readonly refusals: readonly Refusal[] }

/**
 * A plain value read as a trial: schema, then what only the whole shows. Refuses: plan/unknown-key, plan/bad-value,
 * plan/missing-value, and as checkTrial.
 */
export function trialOf(value: unknown): { readonly trial: TrialInput } | Refused {
  const read = parsed(trialInputSchema, value)
  if ('refusals' in read) return read
  const refusals = checkTrial(read.value)
  return refusals.length > 0 ? { refusals } : { trial: read.value }
}

const { name, procedure, size_is, specimens } = trialInputSchema.shape

const runningSchema = z.strictObject({
  trueloop: z.literal('running-trial/1'),
  ...{ name, procedure, size_is, specimens },
  analysis: trialInputSchema.shape.analysis,
  answers_sha256: z.string().regex(/^[0-9a-f]{64}$/, 'a hash has 64 hexadecimal digits'),
  orders: z.array(z.strictObject({ inspector: z.string().min(1), sites: z.array(z.string().min(1)).min(2) })).min(1)
})

const answersSchema = z.strictObject({
  trueloop: z.literal('trial-answers/1'),
  name,
  sites: z.array(siteSchema).min(2)
})

/** What was built, read again. Refuses: plan/unknown-key, plan/bad-value, plan/missing-value. */
export function runningTrialOf(value: unknown): { readonly running: RunningTrial } | Refused {
  const read = parsed(runningSchema, value)
  return 'refusals' in read ? read : { running: read.value }
}

/** Refuses: plan/unknown-key, plan/bad-value, plan/missing-value. */
export function answersOf(value: unknown): { readonly answers: Answers } | Refused {
  const read = parsed(answersSchema, value)
  return 'refusals' in read ? read : { answers: read.value }
}

function parsed<T>(schema: z.ZodType<T>, value: unknown): { readonly value: T } | Refused {
  const read = schema.safeParse(value)
  return read.success ? { value: read.data } : { refusals: schemaRefusals(read.error.issues, { schema, value }) }
}

const closedSchema = z.object({
  proves: z.boolean(),
  kinds: z.array(
    z.object({
      kind: z.enum(flawKinds),
      rows: z.array(
        z.object({
          inspector: z.string(),
          site: z.string(),
          size_mm: z.number(),
          called: z.boolean(),
          signal: z.number().optional(),
          at: z.string().optional()
        })
      )
    })
  )
})

type ClosedRow = z.output<typeof closedSchema>['kinds'][number]['rows'][number]

/** `isReal`: whether its specimens were real; a study of it may not say otherwise (see againstTrial). */
type Closed<Row> = { readonly rows: readonly Row[]; readonly isReal: boolean } | Refused

/**
 * Rows of one kind of a closed trial. Kinds are never put together: where there are several, one has to be named.
 * Refuses: plan/bad-value, plan/missing-value, prove/kind-not-planned.
 */
function rowsIn<Row>(
  value: unknown,
  kind: FlawKind | undefined,
  rowOf: (row: ClosedRow, name: string) => Row
): Closed<Row> {
  const read = parsed(closedSchema, value)
  if ('refusals' in read) return read
  const { kinds } = read.value
  const one = kind === undefined && kinds.length === 1 ? kinds[0] : kinds.find((of) => of.kind === kind)
  if (one === undefined) return { refusals: [noKind(kinds.map((of) => of.kind))] }
  return { isReal: read.value.proves, rows: one.rows.map((row, at) => rowOf(row, `${one.kind} ${at + 1}`)) }
}

/** Hits and misses of one kind of a closed trial. */
export const closedRowsOf = (value: unknown, kind: FlawKind | undefined): Closed<GivenRow> =>
  rowsIn(value, kind, ({ inspector, site, size_mm, called }, row) => ({
    ...{ row, size: size_mm, unit: 'mm', hit: called, specimen: site, inspector }
  }))

/** Its signals, in units of the alarm notch as its sheets ask for. A place without one has none: the study says so. */
export const closedSignalsOf = (value: unknown, kind: FlawKind | undefined): Closed<GivenSignalRow> =>
  rowsIn(value, kind, ({ inspector, site, size_mm, signal }, row) => ({
    ...{ row, size: size_mm, unit: 'mm', specimen: site, inspector, signal, signal_unit: 'alarm notch' }
  }))

/** Its calls, with what is known of each place; both by the words of `calledWords`. */
export const closedCallsOf = (value: unknown, kind: FlawKind | undefined): Closed<GivenCall> =>
  rowsIn(value, kind, ({ inspector, site, size_mm, called }, row) => ({
    ...{ row, site, inspector, call: calledWords[called ? 0 : 1], truth: calledWords[size_mm > 0 ? 0 : 1] }
  }))

/** Looks at its flaws, for a demonstration by counting; blanks are no part of one. */
export const closedLooksOf = (value: unknown, kind: FlawKind | undefined): Closed<GivenLook> => {
  const read = rowsIn(value, kind, ({ site, size_mm, called, at }) => ({ site, hit: called, at: at ?? '', size_mm }))
  if ('refusals' in read) return read
  return {
    isReal: read.isReal,
    rows: read.rows.filter(({ size_mm }) => size_mm > 0).map(({ size_mm: _, ...look }) => look)
  }
}

/** Categories of the calls of a trial, as a study of their agreement has to name them. */
export const calledWords = ['called', 'not called'] as const

const noKind = (kinds: readonly string[]): Refusal =>
  refuse('prove/kind-not-planned', {
    found: kinds.length === 0 ? 'a trial without results' : `a trial of ${kinds.join(' and ')} flaws`,
    needed: 'one kind of it: kinds are never put together',
    remedy: 'name the kind'
  })
