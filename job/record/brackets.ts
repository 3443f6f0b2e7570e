/**
 * Which scans a check of the set-up covers. A scan counts when a good check stands before it and a good one after it.
 * A failed check voids what was scanned since the last good one; what is scanned after it is void too until a new
 * reference scan, and a later pass does not heal it. A scan whose closing check has not come is provisional.
 */

/**
 * One recording in the order of the scans. `setUp` names the set-up by the reference recording that began it, so that
 * standardizing the same recording again, by another method, leaves the brackets as they are.
 */
export interface Happening {
  readonly what: 'reference' | 'passed' | 'failed' | 'scan'
  readonly recording: string
  readonly setUp: string
}

export type Standing =
  | { readonly standing: 'certain'; readonly closedBy: string }
  | { readonly standing: 'provisional'; readonly why: string }
  | { readonly standing: 'voided'; readonly why: string; readonly by?: string }

function standingOf(happenings: readonly Happening[], at: number): Standing {
  const { setUp } = happenings[at] as Happening
  return openedWrongly(happenings.slice(0, at), setUp) ?? closing(happenings.slice(at + 1), setUp)
}

function openedWrongly(before: readonly Happening[], setUp: string): Standing | undefined {
  const start = before.findIndex((one) => one.what === 'reference' && one.setUp === setUp)
  if (start < 0) return { standing: 'voided', why: 'no reference scan before it' }
  const failed = before.slice(start).find(({ what }) => what === 'failed')
  if (failed === undefined) return undefined
  return {
    standing: 'voided',
    why: 'scanned after a failed recheck without a new standardization',
    by: failed.recording
  }
}

function closing(after: readonly Happening[], setUp: string): Standing {
  let restarted = false
  for (const one of after) {
    const own = one.setUp === setUp
    if (one.what === 'passed' && own) return { standing: 'certain', closedBy: one.recording }
    if (one.what === 'failed' && (own || !restarted)) {
      return { standing: 'voided', why: 'the recheck after it failed', by: one.recording }
    }
    restarted ||= one.what === 'reference'
  }
  return { standing: 'provisional', why: 'no good recheck after it' }
}

/** How every scan stands; nothing for what is no scan. */
export const standingsOf = (happenings: readonly Happening[]): readonly (Standing | undefined)[] =>
  happenings.map(({ what }, at) => (what === 'scan' ? standingOf(happenings, at) : undefined))
