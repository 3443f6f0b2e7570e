import type { JobSummary } from '../asking/client.ts'
import type { Expected, WatchView } from './watch.ts'

/** What a scan is of, and how it is called. */

export const subjectText = (subject: Expected): string =>
  'name' in subject ? `${subject.of} ${subject.name}` : subject.of

export const nameOf = (expects: WatchView['expects']): string | undefined =>
  expects === undefined ? undefined : 'name' in expects ? expects.name : expects.of

/** What was chosen from a list; null: nothing. */
export function expectedOf({ places }: JobSummary, value: string): Expected | null {
  if (value === '') return null
  if (value === 'reference' || value === 'recheck') return { of: value }
  const place = places.find(({ name }) => name === value)
  return place === undefined ? null : { of: place.of, name: place.name }
}
