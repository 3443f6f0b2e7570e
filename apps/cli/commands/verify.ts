import { isRefusal, type Result } from '@trueloop/ground/refusal'
import type { Archive } from '@trueloop/host/archive'
import { checkJob } from '@trueloop/host/chain'
import type { Verification } from '@trueloop/job/record'
import { Command, InvalidArgumentError } from 'commander'
import { exit } from '../exit.ts'
import { say } from '../terminal/say.ts'
import { withArchive } from '../work/archive.ts'
import { noSuchJob } from '../work/job.ts'

const example = `
Examples:
  trueloop verify DEMO-1
  trueloop verify DEMO-1 --again
  trueloop verify DEMO-1 --head 42:9f86d081…

Three verdicts, none of which stands for another. Intact: chain, documents and originals are the bytes that were
written. Replayed: examined again by the same method, the findings are equal to the bit. Another method: what differs is
listed, and is no fault.`

interface Options {
  readonly again?: boolean
  readonly head?: { count: number; head: string }
  readonly json?: boolean
}

export const command = (): Command =>
  new Command('verify')
    .description('Checks that the record of a job, its documents and its original recordings are as they were written.')
    .argument('<job>', 'number of the job')
    .option('--again', 'examine every recording once more and compare the findings')
    .option('--head <entries:hash>', 'end of the chain as a printed report has it', headOf)
    .option('--json', 'one JSON document, verify/1, on standard output')
    .addHelpText('after', example)
    .action(async (job: string, options: Options) => {
      report(await withArchive((archive) => check(archive, job, options)), job, options.json === true)
    })

function headOf(text: string): { count: number; head: string } {
  const [, count, head] = /^(\d+):([0-9a-f]{64})$/.exec(text) ?? []
  if (count === undefined || head === undefined)
    throw new InvalidArgumentError('needed: number of entries, a colon and 64 hex digits, as the report prints them')
  return { count: Number(count), head }
}

async function check(archive: Archive, job: string, { again, head }: Options): Promise<Result<Verification>> {
  const end = await archive.end(job)
  if (isRefusal(end)) return end
  if (end.count === 0) return noSuchJob(archive, job)
  return checkJob(archive, job, { again: again === true, ...(head === undefined ? {} : { printed: head }) })
}

function report(found: Result<Verification>, job: string, json: boolean): void {
  if (isRefusal(found)) return void say({ document: 'verify/1', json, refusals: [found], text: [], data: { job } })
  const isSound = found.intact.holds && (!found.replayed.asked || found.replayed.faults.length === 0)
  const said = { document: 'verify/1', json, refusals: [], exit: isSound ? exit.done : exit.archive }
  say({ ...said, text: textOf(found), data: { job, ...found } })
}

const textOf = ({ intact, replayed, anotherMethod }: Verification): readonly string[] => [
  intact.holds ? 'intact: chain, documents and originals are the bytes that were written' : 'NOT intact',
  ...intact.faults.map(faultLine),
  ...(intact.entriesSincePrinted > 0 ? [`  ${intact.entriesSincePrinted} entries were added since that report`] : []),
  replayedLine(replayed),
  ...replayed.faults.map(faultLine),
  ...anotherMethod.flatMap(({ seq, recorded, now, differences }) => [
    `another method: entry ${seq} by method ${recorded}, now ${now}; ${differences.length} differences`,
    ...differences.slice(0, 20).map(({ path, was, now: is }) => `  ${path}: was ${was}, is ${is}`)
  ])
]

const faultLine = ({ place, found, needed }: Verification['intact']['faults'][number]): string =>
  `  ${place}: found ${found}; needed ${needed}`

function replayedLine({ asked, count, faults }: Verification['replayed']): string {
  if (!asked) return 'not replayed: --again examines every recording once more'
  return faults.length === 0 ? `replayed: ${count} examinations, findings equal to the bit` : 'NOT replayed'
}
