import { queryOptions, useQuery } from '@tanstack/react-query'
import { read } from '../asking/client.ts'

const paceQuery = (job: string) =>
  queryOptions({ queryKey: ['job', job, 'pace'], queryFn: () => read('/api/jobs/{job}/pace', { job }) })

/** How people have decided today, and when they last had a break. Shown, and nothing is asked for. */
export function PaceOfDay({ job }: { readonly job: string }) {
  const { data } = useQuery(paceQuery(job))
  const people = data?.people.filter(({ decisions }) => decisions.length > 0) ?? []
  if (data === undefined || people.length === 0) return null
  return (
    <ul className="pace quiet">
      {people.map(({ name, decisions, latest, longest }) => (
        <li key={name}>
          {[
            `${name}, today: ${decisions.length} decisions`,
            ...(latest === undefined
              ? []
              : [`${latest.minutes} min since the last break of ${data.break_min} min or more`]),
            ...(longest === undefined ? [] : [`longest stretch ${longest.minutes} min`])
          ].join('; ')}
        </li>
      ))}
    </ul>
  )
}
