import type { JobSummary } from '../asking/client.ts'
import type { Expected, WatchView } from './watch.ts'

/** What a scan is of, and how it is called. */

export function subjectText(subject: Expected): string {
  if ('track' in subject) return `parent metal beside ${subject.track}`
  return 'name' in subject ? `${subject.of} ${subject.name}` : subject.of
}

export const nameOf = (expects: WatchView['expects']): string | undefined =>
  expects === undefined
    ? undefined
    : 'name' in expects
      ? expects.name
      : 'track' in expects
        ? `parent ${expects.track}`
        : expects.of

/** What was chosen from a list; null: nothing. */
export function expectedOf({ places }: JobSummary, value: string): Expected | null {
  if (value === '') return null
  if (value === 'reference' || value === 'recheck') return { of: value }
  const beside = places.find(({ of, name }) => of === 'track' && `parent ${name}` === value)
  if (beside !== undefined) return { of: 'parent', track: beside.name }
  const place = places.find(({ name }) => name === value)
  return place === undefined ? null : { of: place.of, name: place.name }
}
