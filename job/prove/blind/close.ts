import type { Refusal } from '@trueloop/ground/refusal'
import { canonical } from '../../record/index.ts'
import { refuse } from '../codes.ts'
import type { Answers, ExaminedFrom, FlawKind, HashOf, RunningTrial, Site, TrialResult } from './trial.ts'
import { flawKinds } from './trial.ts'

/** A place that an inspector did not examine: neither hit nor miss. */
export interface NotExamined {
  readonly inspector: string
  readonly site: string
}

/** Rows of one kind, ready for its analysis: sizes in mm, 0 for a blank. */
export interface ClosedKind {
  readonly kind: FlawKind
  readonly rows: readonly (TrialResult & { readonly size_mm: number })[]
}

export interface ClosedTrial {
  readonly name: string
  /** Whether a capability may be attached to a technique: only real specimens prove one. */
  readonly proves: boolean
  readonly kinds: readonly ClosedKind[]
  readonly not_examined: readonly NotExamined[]
  /** records of jobs that results come from */
  readonly records?: readonly ExaminedFrom[]
}

export interface Closing {
  readonly running: RunningTrial
  readonly answers: Answers
  readonly results: readonly TrialResult[]
  readonly records?: readonly ExaminedFrom[]
}

/**
 * Brings results and answers together: only here does a size meet a call. Refuses: prove/other-answers (not those that were
 * sealed), prove/no-such-site, prove/no-such-inspector, prove/result-twice.
 */
export function closeTrial(closing: Closing, hash: HashOf): ClosedTrial | { readonly refusals: readonly Refusal[] } {
  const { running, answers, results } = closing
  const refusals = [...sealed(closing, hash), ...strangers(closing), ...twice(results)]
  if (refusals.length > 0) return { refusals }
  const sites = new Map(answers.sites.map((site) => [site.site, site]))
  const rows = results.map((result) => ({ ...result, ...sizeAndKind(sites.get(result.site)!) }))
  const done = new Set(results.map(({ inspector, site }) => `${inspector}\n${site}`))
  return {
    name: running.name,
    proves: running.specimens === 'real',
    kinds: flawKinds.flatMap((kind) => {
      const own = rows.filter((row) => row.kind === kind)
      return own.length === 0 ? [] : [{ kind, rows: own.map(({ kind: _, ...row }) => row) }]
    }),
    ...(closing.records === undefined ? {} : { records: closing.records }),
    not_examined: running.orders.flatMap(({ inspector, sites: all }) =>
      all.filter((site) => !done.has(`${inspector}\n${site}`)).map((site) => ({ inspector, site }))
    )
  }
}

const sizeAndKind = ({ size_mm, kind }: Site) => ({ size_mm, kind })

const sealed = ({ running, answers }: Closing, hash: HashOf): readonly Refusal[] =>
  hash(canonical(answers)) === running.answers_sha256
    ? []
    : [
        refuse('prove/other-answers', {
          found: 'answers that are not those of this trial',
          needed: `the answers with the hash ${running.answers_sha256}, as they were before anybody looked`,
          remedy: 'find the sealed answers; answers that were changed afterwards prove nothing'
        })
      ]

function strangers({ running, results }: Closing): readonly Refusal[] {
  const inspectors = new Set(running.orders.map(({ inspector }) => inspector))
  const sites = new Set(running.orders.flatMap((order) => order.sites))
  return results.flatMap(({ inspector, site }) => [
    ...(sites.has(site) ? [] : [noSuch('prove/no-such-site', `a result for ${site}`, 'a place of this trial')]),
    ...(inspectors.has(inspector)
      ? []
      : [noSuch('prove/no-such-inspector', `a result of ${inspector}`, 'an inspector of this trial')])
  ])
}

const noSuch = (code: 'prove/no-such-site' | 'prove/no-such-inspector', found: string, needed: string): Refusal =>
  refuse(code, { found, needed, remedy: 'correct the name, or leave the row out' })

function twice(results: readonly TrialResult[]): readonly Refusal[] {
  const seen = new Set<string>()
  return results.flatMap(({ inspector, site }) => {
    const key = `${inspector}\n${site}`
    if (!seen.has(key)) {
      seen.add(key)
      return []
    }
    return [
      refuse('prove/result-twice', {
        found: `two results of ${inspector} for ${site}`,
        needed: 'one result for each place and inspector: the one that counts, chosen before the answers are known',
        remedy: 'leave out the one that does not count'
      })
    ]
  })
}
