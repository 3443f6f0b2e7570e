import {
  binomialLowerBound,
  binomialUpperBound,
  type CohenKappa,
  cohenKappa,
  type FleissKappa,
  fleissKappa,
  type Interval
} from '@trueloop/ground/numerics'
import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import { z } from 'zod'
import { canonical } from '../../record/index.ts'
import { type Same, workedAgain } from '../again.ts'
import { type Code, refuse } from '../codes.ts'
import type { ProveWith } from '../hit-miss/prove.ts'
import { read } from '../question.ts'

/** What is asked of the calls of several inspectors on the same sites. Nothing in it has a default. */
export const agreementStudySchema = z.strictObject({
  kind: z.literal('agreement'),
  version: z.literal(1),
  name: z.string().min(1).describe('what the study is called'),
  conditions: z.string().min(1).describe('technique, sites and people for which the result holds'),
  categories: z.array(z.string().min(1)).min(2).describe('what a site may be called, as the table has it'),
  flawed: z.array(z.string().min(1)).min(1).describe('the categories that stand for a flaw'),
  confidence: z.number().gt(0.5).lt(1).describe('two-sided, of the intervals')
})

export type AgreementStudy = z.output<typeof agreementStudySchema>

/** One call as a table gives it; nothing is trusted yet. */
export interface GivenCall {
  readonly row: string
  readonly site: unknown
  readonly inspector: unknown
  readonly call: unknown
  /** what the site is, where that is known */
  readonly truth?: unknown
}

/** Successes among trials with the exact two-sided interval. */
export interface Counted extends Interval {
  readonly successes: number
  readonly trials: number
}

export interface AgainstTruth {
  readonly inspector: string
  /** of flawed sites, called as one of the flawed categories; undefined where there is none */
  readonly hits?: Counted
  /** of the other sites, called as one of them */
  readonly falseCalls?: Counted
  readonly kappa: Result<CohenKappa, Code>
}

/** Plain data: with the rows that its hash names, all of it can be worked out again. */
export interface AgreementResult {
  readonly kind: 'agreement-result'
  readonly method: number
  readonly program: string
  readonly study: AgreementStudy
  readonly data: { readonly sha256: string; readonly sites: number; readonly inspectors: number }
  /** share of each category in all calls: kappa is small where one of them rules, however well people agree */
  readonly shares: readonly { readonly category: string; readonly share: number }[]
  readonly pairs: readonly {
    readonly first: string
    readonly second: string
    readonly agreed: Counted
    readonly kappa: Result<CohenKappa, Code>
  }[]
  readonly all: Result<FleissKappa, Code>
  /** empty where no truth is known */
  readonly againstTruth: readonly AgainstTruth[]
}

/** Grows when any figure of a study would come out otherwise. */
export const agreementMethod = 1

interface Table {
  readonly sites: readonly string[]
  readonly inspectors: readonly string[]
  /** [inspector][site] */
  readonly calls: readonly (readonly number[])[]
  /** [site] */
  readonly truth: readonly number[] | undefined
}

/**
 * How well inspectors agree beyond chance, two by two and all together, and each with the truth where that is known.
 * Refuses: prove/bad-question, prove/no-rows, prove/no-raters (fewer than two inspectors or sites), prove/no-result (a
 * call of no category), prove/not-paired (a site not called once by each inspector), prove/two-truths; in each kappa:
 * prove/one-category. source: cohen-1960; fleiss-cohen-everitt-1969; fleiss-1971; clopper-pearson-1934
 */
export function proveAgreement(
  asked: unknown,
  given: readonly GivenCall[],
  { hash, program }: ProveWith
): Result<AgreementResult, Code> {
  const study = read(agreementStudySchema, asked, 'prove/bad-question')
  if (isRefusal(study)) return study
  const stray = study.flawed.find((category) => !study.categories.includes(category))
  if (stray !== undefined) return badCategory(stray)
  const table = tableOf(given, study)
  if (isRefusal(table)) return table
  const { sites, inspectors, calls } = table
  return {
    ...{ kind: 'agreement-result', method: agreementMethod, program, study },
    data: {
      ...{ sha256: hashOfCalls(given, hash), sites: sites.length, inspectors: inspectors.length }
    },
    shares: study.categories.map((category, k) => ({ category, share: shareOf(calls.flat(), k) })),
    pairs: inspectors.flatMap((first, i) =>
      inspectors.slice(i + 1).map((second, j) => pairOf([first, second], [calls[i]!, calls[i + 1 + j]!], study))
    ),
    all: defined(fleissKappa(countsOf(table, study))),
    againstTruth: table.truth === undefined ? [] : truths(table, table.truth, study)
  }
}

/** Hash of the calls as given. */
export const hashOfCalls = (given: readonly GivenCall[], hash: ProveWith['hash']): string =>
  hash(canonical(given.map((row) => Object.fromEntries(Object.entries(row).map(([k, v]) => [k, String(v)])))))

/** The same study again from the result alone and its rows. Refuses: prove/other-data, prove/other-method, and as `proveAgreement`. */
export const proveAgreementAgain = (
  before: AgreementResult,
  given: readonly GivenCall[],
  { hash, program }: ProveWith
): Result<Same<AgreementResult>, Code> =>
  workedAgain(before, { method: agreementMethod, sha256: hashOfCalls(given, hash) }, () =>
    proveAgreement(before.study, given, { hash, program })
  )

const shareOf = (calls: readonly number[], k: number): number =>
  calls.filter((call) => call === k).length / calls.length

function pairOf(
  [first, second]: readonly [string, string],
  [a, b]: readonly [readonly number[], readonly number[]],
  { categories, confidence }: AgreementStudy
): AgreementResult['pairs'][number] {
  const same = a.filter((call, site) => call === b[site]).length
  const kappa = defined(cohenKappa(crossed(a, b, categories.length), confidence))
  return { first, second, agreed: counted(same, a.length, confidence), kappa }
}

const crossed = (a: readonly number[], b: readonly number[], size: number): readonly (readonly number[])[] =>
  Array.from({ length: size }, (_, i) =>
    Array.from({ length: size }, (_none, j) => a.filter((call, site) => call === i && b[site] === j).length)
  )

const countsOf = ({ sites, calls }: Table, { categories }: AgreementStudy): readonly (readonly number[])[] =>
  sites.map((_, site) => categories.map((_name, k) => calls.filter((of) => of[site] === k).length))

function counted(successes: number, trials: number, confidence: number): Counted {
  const twoSided = 0.5 + 0.5 * confidence
  const lower = binomialLowerBound({ successes, trials }, twoSided)
  return { successes, trials, lower, upper: binomialUpperBound({ successes, trials }, twoSided) }
}

function truths(
  { inspectors, calls }: Table,
  truth: readonly number[],
  study: AgreementStudy
): readonly AgainstTruth[] {
  const isFlaw = (category: number): boolean => study.flawed.includes(study.categories[category]!)
  const calledAmong = (own: readonly number[], flawed: boolean): Counted | undefined => {
    const among = own.filter((_, site) => isFlaw(truth[site]!) === flawed)
    return among.length === 0 ? undefined : counted(among.filter(isFlaw).length, among.length, study.confidence)
  }
  return inspectors.map((inspector, i) => {
    const own = calls[i]!
    const [hits, falseCalls] = [calledAmong(own, true), calledAmong(own, false)]
    const kappa = defined(cohenKappa(crossed(own, truth, study.categories.length), study.confidence))
    return {
      ...{ inspector, kappa },
      ...(hits === undefined ? {} : { hits }),
      ...(falseCalls === undefined ? {} : { falseCalls })
    }
  })
}

function tableOf(given: readonly GivenCall[], study: AgreementStudy): Result<Table, Code> {
  if (given.length === 0) return noRows()
  const [sites, inspectors] = [namesOf(given.map(({ site }) => site)), namesOf(given.map((row) => row.inspector))]
  if (sites.length < 2 || inspectors.length < 2) return noRaters(sites.length, inspectors.length)
  const strange = given.find(({ call }) => !study.categories.includes(String(call)))
  if (strange !== undefined) return noResult(strange.row, strange.call, study)
  const of = new Map<string, GivenCall>()
  for (const row of given) of.set(canonical([String(row.inspector), String(row.site)]), row)
  if (of.size !== given.length || of.size !== sites.length * inspectors.length)
    return notPaired(given.length, sites.length, inspectors.length)
  const place = (call: unknown): number => study.categories.indexOf(String(call))
  const calls = inspectors.map((inspector) => sites.map((site) => place(of.get(canonical([inspector, site]))!.call)))
  const truth = truthOf(given, sites, study)
  return isRefusal(truth) ? truth : { sites, inspectors, calls, truth }
}

const namesOf = (names: readonly unknown[]): readonly string[] => [...new Set(names.map(String))]

/** Undefined where no row tells it. */
function truthOf(
  given: readonly GivenCall[],
  sites: readonly string[],
  { categories }: AgreementStudy
): Result<readonly number[] | undefined, Code> {
  if (given.every(({ truth }) => truth === undefined || truth === null || truth === '')) return undefined
  const told = sites.map((site) => namesOf(given.filter((row) => String(row.site) === site).map(({ truth }) => truth)))
  const wrong = told.findIndex((names) => names.length !== 1 || !categories.includes(names[0]!))
  return wrong < 0 ? told.map(([name]) => categories.indexOf(name!)) : twoTruths(sites[wrong]!, told[wrong]!)
}

const defined = <T>(found: Result<T>): Result<T, Code> =>
  isRefusal(found)
    ? refuse('prove/one-category', { found: found.found, needed: found.needed, remedy: found.remedy })
    : (found as Exclude<T, Refusal>)

const badCategory = (category: string): Refusal<Code> =>
  refuse('prove/bad-question', {
    found: `"${category}" as a flawed category`,
    needed: 'one of the categories',
    remedy: 'correct its name'
  })

const noRows = (): Refusal<Code> =>
  refuse('prove/no-rows', {
    found: 'no call',
    needed: 'the call of every inspector on every site',
    remedy: 'give the whole table of the study'
  })

const noRaters = (sites: number, inspectors: number): Refusal<Code> =>
  refuse('prove/no-raters', {
    found: `${inspectors} inspectors on ${sites} sites`,
    needed: 'two inspectors and two sites, at the least',
    remedy: 'have the same sites looked at by another person, without knowledge of the first calls'
  })

const noResult = (row: string, call: unknown, { categories }: AgreementStudy): Refusal<Code> =>
  refuse('prove/no-result', {
    found: `a call of "${String(call)}"`,
    needed: `one of: ${categories.join(', ')}`,
    remedy: 'a site that was not examined has no call; leave the site out for all inspectors, with the reason',
    where: { path: row }
  })

const notPaired = (rows: number, sites: number, inspectors: number): Refusal<Code> =>
  refuse('prove/not-paired', {
    found: `${rows} calls for ${sites} sites and ${inspectors} inspectors`,
    needed: 'one call of each inspector on each site',
    remedy: 'leave out sites that not all have looked at, and of two calls by one person take the one that counts'
  })

const twoTruths = (site: string, told: readonly string[]): Refusal<Code> =>
  refuse('prove/two-truths', {
    found: `site ${site} told to be ${told.join(' and ')}`,
    needed: 'one category for each site, the same in all its rows',
    remedy: 'look up what is known of the site, and by whom'
  })
