import { isRefusal, type Result } from '@trueloop/ground/refusal'
import type { Archive } from '@trueloop/host/archive'
import { program } from '@trueloop/host/chain'
import { sha256 } from '@trueloop/host/hash'
import { type Monitored, type MonitoredPlace, monitor, monitoredIn, percent } from '@trueloop/job/prove'
import { replay } from '@trueloop/job/record'
import { Command } from 'commander'
import { say, table } from '../../terminal/say.ts'
import { withArchive } from '../../work/archive.ts'
import { shareBelowOne } from '../../work/numbers.ts'
import { refused } from './refused.ts'

interface Options {
  readonly confidence: number
  readonly json?: boolean
}

export const monitoring = (): Command =>
  new Command('monitor')
    .description('Says how people did on the practice that was mixed into their work.')
    .argument('[jobs...]', 'numbers of jobs; without any: all of the archive')
    .requiredOption('--confidence <share>', 'one-sided, such as 0.95', shareBelowOne)
    .option('--json', 'one JSON document, prove/1, on standard output')
    .action(watch)

async function watch(jobs: readonly string[], { confidence, json = false }: Options): Promise<void> {
  const places = await withArchive((archive) => placesIn(archive, jobs))
  if (isRefusal(places)) return refused(json, [places])
  const by = `${program.name} ${program.version}`
  const result = monitor(places, confidence, { hash: sha256, program: by })
  const sure = percent(confidence)
  say({
    ...{ document: 'prove/1', json, refusals: [] },
    text:
      places.length === 0
        ? ['no practice is marked in these records']
        : [
            ...table([
              ['inspector', 'flaws found', `at least, ${sure}`, 'falsely called', `at most, ${sure}`, 'without a call'],
              ...result.inspectors.map(rowOf)
            ]),
            'Simulated practice: it watches people, it proves no capability.'
          ],
    data: { result }
  })
}

async function placesIn(archive: Archive, asked: readonly string[]): Promise<Result<readonly MonitoredPlace[]>> {
  const jobs = await archive.jobs()
  if (isRefusal(jobs)) return jobs
  const all: MonitoredPlace[] = []
  for (const job of asked.length > 0 ? asked : jobs.map(({ id }) => id)) {
    const rows = await archive.entries(job)
    if (isRefusal(rows)) return rows
    if (rows.some(({ kind }) => kind === 'practice-marked')) all.push(...monitoredIn(replay(rows)))
  }
  return all
}

const rowOf = ({ inspector, found, falselyCalled, without }: Monitored): readonly string[] => [
  inspector,
  ...shareCells(found),
  ...shareCells(falselyCalled),
  String(without)
]

const shareCells = (share: Monitored['found']): readonly string[] =>
  share === undefined ? ['none', ''] : [`${share.called} of ${share.of}`, percent(share.bound, 1)]
