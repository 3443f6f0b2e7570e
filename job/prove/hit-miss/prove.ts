import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import { canonical, type Hash } from '../../record/index.ts'
import { type Same, workedAgain } from '../again.ts'
import { type Code, refuse } from '../codes.ts'
import type { FalseCalls } from '../false-calls.ts'
import { read } from '../question.ts'
import { type Exclusion, type GivenRow, type SortedRows, type StudyRow, sortRows } from '../rows.ts'
import { type Advice, adviceOn } from './advice.ts'
import { type AmongInspectors, amongInspectors } from './among.ts'
import { type Group, type GroupResult, groupResult } from './group.ts'
import { type HitMissStudy, hitMissStudySchema } from './study.ts'

/** Grows when any figure of a study would come out otherwise. */
export const hitMissMethod = 2

/** What the world has to give: a hash of a text in UTF-8, and the name and version of the program. */
export interface ProveWith {
  readonly hash: Hash
  readonly program: string
}

/** Plain data: with the rows that its hash names, all of it can be worked out again. */
export interface HitMissResult {
  readonly kind: 'hit-miss-result'
  readonly method: number
  readonly program: string
  readonly study: HitMissStudy
  readonly data: {
    readonly sha256: string
    readonly rows: number
    readonly flaws: number
    readonly blanks: number
    readonly exclusions: readonly Exclusion[]
  }
  /** of the group with the largest upper bound */
  readonly falseCalls: Result<FalseCalls, Code>
  readonly groups: readonly GroupResult[]
  /** where inspectors are fitted apart: what they tell of others, for information */
  readonly among?: Result<AmongInspectors, Code>
  /** the size found with the share and confidence asked, m: of the worst group, and only if all groups have one */
  readonly stated_m: Result<number, Code>
  readonly advice: readonly Advice[]
}

/**
 * A hit/miss study from its rows. Chance of a hit F(b0 + b1 x), x the size in m or its logarithm; bounds one-sided.
 * Blanks feed the false-call rate alone. It holds for the flaws, people and conditions of the trial.
 * Refuses: prove/bad-question and what `sortRows` refuses; in `curve` and `stated_m` what hinders a curve or a bound;
 * in `falseCalls`: prove/no-blanks. source: mil-hdbk-1823a-2009; cox-hinkley-1974, 9.3
 */
export function proveHitMiss(
  asked: unknown,
  rows: readonly GivenRow[],
  { hash, program }: ProveWith
): Result<HitMissResult, Code> {
  const study = read(hitMissStudySchema, asked, 'prove/bad-question')
  if (isRefusal(study)) return study
  const sorted = sortRows(rows, study)
  if (isRefusal(sorted)) return sorted
  const { flaws, blanks, exclusions } = sorted
  const parts = groupsOf(sorted, study)
  const empty = parts.find((group) => group.flaws.length === 0)
  if (empty !== undefined) return noFlaws(empty.blanks)
  const groups = parts.map((group) => groupResult(group, study))
  const falseCalls = worstCalls(groups)
  return {
    ...{ kind: 'hit-miss-result', method: hitMissMethod, program, study },
    data: { sha256: hashOfRows(rows, hash), rows: rows.length, flaws: flaws.length, blanks: blanks.length, exclusions },
    ...{ falseCalls, groups, stated_m: worstOf(groups), advice: adviceOn(study, groups, falseCalls) },
    ...(parts.length < 2
      ? {}
      : {
          among: amongInspectors(
            parts.map((group) => group.flaws),
            study
          )
        })
  }
}

function groupsOf({ flaws, blanks }: SortedRows, { inspectors }: HitMissStudy): readonly Group[] {
  if (inspectors === 'one') return [{ flaws, blanks }]
  const names = [...new Set([...flaws, ...blanks].map(({ inspector }) => inspector))].sort()
  return names.map((name) => {
    const isOwn = ({ inspector }: StudyRow): boolean => inspector === name
    return { flaws: flaws.filter(isOwn), blanks: blanks.filter(isOwn) }
  })
}

/** Of the group with the largest bound: blanks that several inspectors looked at are no independent sites either. */
function worstCalls(groups: readonly GroupResult[]): Result<FalseCalls, Code> {
  const [first, ...rest] = groups.map((group) => group.falseCalls)
  if (first === undefined) throw new Error('no group')
  return rest.reduce(
    (worst, one) => (isRefusal(worst) || (!isRefusal(one) && one.upper <= worst.upper) ? worst : one),
    first
  )
}

/** The largest size; the first refusal where one group has none. */
function worstOf(groups: readonly GroupResult[]): Result<number, Code> {
  const stated = groups.map(({ curve }): Result<number, Code> => (isRefusal(curve) ? curve : curve.stated))
  const refused = stated.find((one): one is Refusal<Code> => isRefusal(one))
  return refused ?? Math.max(...stated.filter((one): one is number => typeof one === 'number'))
}

/** Hash of the rows as given, excluded ones too. Numbers that JSON can't write stand as text. */
export const hashOfRows = (rows: readonly GivenRow[], hash: Hash): string => hash(canonical(rows.map(plainRow)))

const plainRow = (row: GivenRow): Readonly<Record<string, unknown>> =>
  Object.fromEntries(Object.entries(row).map(([key, value]) => [key, plain(value)]))

const plain = (value: unknown): unknown =>
  typeof value === 'string' || typeof value === 'boolean' || value === null || value === undefined
    ? value
    : typeof value === 'number' && Number.isFinite(value)
      ? value
      : `not plain: ${String(value)}`

/**
 * The same study again from the result alone and the rows that its hash names. The program may be another one; the
 * method may not. Refuses: prove/other-data, prove/other-method, and as `proveHitMiss`.
 */
export const proveAgain = (
  before: HitMissResult,
  rows: readonly GivenRow[],
  { hash, program }: ProveWith
): Result<Same<HitMissResult>, Code> =>
  workedAgain(before, { method: hitMissMethod, sha256: hashOfRows(rows, hash) }, () =>
    proveHitMiss(before.study, rows, { hash, program })
  )

const noFlaws = (blanks: readonly StudyRow[]): Refusal<Code> =>
  refuse('prove/no-rows', {
    found: `no flaw that is used, ${blanks.length} blanks${blanks[0]?.inspector ? ` of inspector ${blanks[0].inspector}` : ''}`,
    needed: 'flaws of several sizes',
    remedy: 'look at why the rows were excluded'
  })
