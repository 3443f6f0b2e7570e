import { z } from 'zod'
import { canonical } from '../../record/index.ts'
import { ordered } from './order.ts'

const text = (help: string) => z.string().min(1).max(500).describe(help)

/** Kinds of flaw that are never put together: each has a capability of its own. */
export const flawKinds = ['corner', 'mid-bore', 'through'] as const
export type FlawKind = (typeof flawKinds)[number]

export const analyses = ['hit/miss', 'signal response', 'demonstration'] as const
export type Analysis = (typeof analyses)[number]

/** One place that is examined; a size of 0 is a blank, known to hold no flaw. */
export const siteSchema = z.strictObject({
  site: text('Name of the place, as it stands on the specimen; it must not tell what is there'),
  kind: z.enum(flawKinds).describe('Kind of flaw, and for a blank the kind that it is a blank for'),
  size_mm: z.number().min(0).max(100).describe('Size that capability is stated in, mm; 0 for a blank'),
  by: text('Who says so: certificate, replica, sectioning')
})

/** A trial before it begins: what is known, and who is to look. */
export const trialInputSchema = z.strictObject({
  trueloop: z.literal('blind-trial/1').describe('Kind and version of this document'),
  name: text('Name of the trial'),
  procedure: z.strictObject({ id: text('Procedure'), revision: text('Revision') }),
  size_is: z.enum(['depth', 'length']).describe('What the sizes are'),
  specimens: z
    .enum(['real', 'notches', 'simulated'])
    .describe('Real cracks; or notches or simulation, which prove no capability'),
  analysis: z
    .partialRecord(z.enum(flawKinds), z.enum(analyses))
    .describe('How each kind is to be analyzed, fixed beforehand'),
  inspectors: z.array(text('Name of an inspector')).min(1).max(100),
  seed: z.number().int().min(0).max(4_294_967_295).describe('The same number gives the same orders'),
  sites: z.array(siteSchema).min(2).max(10_000)
})

export type Site = z.output<typeof siteSchema>
export type TrialInput = z.output<typeof trialInputSchema>

/** What everybody may see while the trial runs. Neither sizes nor how many places hold a flaw are in it. */
export interface RunningTrial {
  readonly trueloop: 'running-trial/1'
  readonly name: string
  readonly procedure: TrialInput['procedure']
  readonly size_is: TrialInput['size_is']
  readonly specimens: TrialInput['specimens']
  readonly analysis: TrialInput['analysis']
  /** Hash of the canonical JSON of the answers: nobody can exchange them afterwards. */
  readonly answers_sha256: string
  /** For each inspector the places in the order in which they are examined. */
  readonly orders: readonly { readonly inspector: string; readonly sites: readonly string[] }[]
}

/** What only the person who keeps the trial sees until it is closed. */
export interface Answers {
  readonly trueloop: 'trial-answers/1'
  readonly name: string
  readonly sites: readonly Site[]
}

export interface BuiltTrial {
  readonly running: RunningTrial
  readonly answers: Answers
}

/** One place as one inspector left it: called or not, and how strong the signal was where it was measured. */
export interface TrialResult {
  readonly inspector: string
  readonly site: string
  readonly called: boolean
  readonly signal?: number
  /** when it was examined, ISO 8601 with its offset: a demonstration needs it */
  readonly at?: string
}

/** Where results come from: the record of a job, as it stood. */
export interface ExaminedFrom {
  readonly job: string
  readonly head: string
  readonly inspector: string
}

/** Sizes of the flaws of each kind that a trial has, blanks left out. */
export const flawKindsOf = ({ sites }: TrialInput) =>
  flawKinds.flatMap((kind) => {
    const sizes_mm = sites.filter((site) => site.kind === kind && site.size_mm > 0).map(({ size_mm }) => size_mm)
    return sizes_mm.length === 0 ? [] : [{ kind, sizes_mm }]
  })

/** Hex hash of a text, from the host. */
export type HashOf = (text: string) => string

/**
 * Splits a trial into what may be seen and what may not; each inspector gets an order of their own, drawn by seed and name.
 * The input has passed checkTrial.
 */
export function buildTrial(input: TrialInput, hash: HashOf): BuiltTrial {
  const { name, procedure, size_is, specimens, analysis, inspectors, seed } = input
  // sorted by name: the order of the input would tell who made it what lies where
  const sites = [...input.sites].sort((a, b) => (a.site < b.site ? -1 : 1))
  const answers: Answers = { trueloop: 'trial-answers/1', name, sites }
  const names = sites.map(({ site }) => site)
  return {
    answers,
    running: {
      trueloop: 'running-trial/1',
      ...{ name, procedure, size_is, specimens, analysis },
      answers_sha256: hash(canonical(answers)),
      orders: inspectors.map((inspector) => ({ inspector, sites: ordered(names, `${seed} ${inspector}`) }))
    }
  }
}
