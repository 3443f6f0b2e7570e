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

type Opening = (setUp: string, at: number) => Standing | undefined

/** Whether a scan was opened wrongly, for all scans of a job: each set-up is looked for once. */
function openings(happenings: readonly Happening[]): Opening {
  const known = new Map<string, { readonly start: number; readonly failed: number }>()
  const find = (setUp: string) => {
    const start = happenings.findIndex((one) => one.what === 'reference' && one.setUp === setUp)
    const failed = happenings.findIndex(({ what }, at) => what === 'failed' && at >= start)
    return { start, failed }
  }
  return (setUp, at) => {
    const { start, failed } = known.get(setUp) ?? find(setUp)
    known.set(setUp, { start, failed })
    if (start < 0 || start >= at) return { standing: 'voided', why: 'no reference scan before it' }
    if (failed < 0 || failed >= at) return undefined
    const by = happenings[failed] as Happening
    const why = 'scanned after a failed recheck without a new standardization'
    return { standing: 'voided', why, by: by.recording }
  }
}

function closing(happenings: readonly Happening[], at: number): Standing {
  const { setUp } = happenings[at] as Happening
  let restarted = false
  for (let next = at + 1; next < happenings.length; next++) {
    const one = happenings[next] as Happening
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
export function standingsOf(happenings: readonly Happening[]): readonly (Standing | undefined)[] {
  const openedWrongly = openings(happenings)
  return happenings.map(({ what, setUp }, at) =>
    what === 'scan' ? (openedWrongly(setUp, at) ?? closing(happenings, at)) : undefined
  )
}
