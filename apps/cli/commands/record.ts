import { isRefusal, type Result } from '@trueloop/ground/refusal'
import type { Archive, JobEnd } from '@trueloop/host/archive'
import { type JobSummary, reportInput, summaryOf } from '@trueloop/host/chain'
import type { Examination } from '@trueloop/job/examine'
import { type Entry, type EntryRow, replay } from '@trueloop/job/record'
import { Command } from 'commander'
import { say, table } from '../terminal/say.ts'
import { summaryText } from '../terminal/summary.ts'
import { withArchive } from '../work/archive.ts'
import { noSuchJob } from '../work/job.ts'

const example = `
Examples:
  trueloop record
  trueloop record DEMO-1
  trueloop record DEMO-1 --findings
  trueloop record DEMO-1 --entries --json`

interface Options {
  readonly findings?: boolean
  readonly entries?: boolean
  readonly json?: boolean
}

export const command = (): Command =>
  new Command('record')
    .description('Shows how a job stands, rebuilt from the entries of its record. Without a job: all jobs.')
    .argument('[job]', 'number of the job')
    .option('--findings', 'list every indication')
    .option('--entries', 'list every entry')
    .option('--json', 'one JSON document, record/1, on standard output')
    .addHelpText('after', example)
    .action(async (job: string | undefined, options: Options) => {
      const found = await withArchive<Jobs | Shown>((archive) =>
        job === undefined ? jobs(archive) : jobOf(archive, job)
      )
      show(found, options)
    })

interface Jobs {
  readonly jobs: readonly JobEnd[]
}

interface Shown {
  readonly summary: JobSummary
  readonly examinations: readonly Examination[]
  readonly rows: readonly EntryRow[]
}

async function jobs(archive: Archive): Promise<Result<Jobs>> {
  const all = await archive.jobs()
  return isRefusal(all) ? all : { jobs: all }
}

async function jobOf(archive: Archive, job: string): Promise<Result<Shown>> {
  const rows = await archive.entries(job)
  if (isRefusal(rows)) return rows
  if (rows.length === 0) return noSuchJob(archive, job)
  const state = replay(rows)
  const input = await reportInput(archive, state)
  if (isRefusal(input)) return input
  return { summary: summaryOf(state), examinations: input.examinations.map(({ document }) => document), rows }
}

function show(found: Result<Jobs | Shown>, { entries = false, findings = false, json = false }: Options): void {
  const said = { document: 'record/1', json, refusals: [] }
  if (isRefusal(found)) return void say({ ...said, refusals: [found], text: [], data: {} })
  if ('jobs' in found) return void say({ ...said, text: jobLines(found.jobs), data: { jobs: found.jobs } })
  const { summary, examinations, rows } = found
  say({
    ...said,
    waiting: summary.waiting,
    text: [
      ...summaryText(summary),
      ...(findings ? ['', ...findingLines(examinations)] : []),
      ...(entries ? ['', ...entryLines(rows)] : [])
    ],
    data: {
      summary,
      ...(findings ? { examinations: examinations.map(({ picture: _, ...rest }) => rest) } : {}),
      ...(entries ? { entries: rows.map(({ body, ...row }) => ({ ...row, body: JSON.parse(body) })) } : {})
    }
  })
}

const jobLines = (all: readonly JobEnd[]): readonly string[] =>
  all.length === 0
    ? ['no jobs in this archive']
    : table([['job', 'entries', 'head'], ...all.map(({ id, count, head }) => [id, String(count), head])])

const findingLines = (examinations: readonly Examination[]): readonly string[] =>
  table([
    ['name', 'indication', 'zone', 'interpretation', 'amplitude', 'angle', 'depth', 'size', 'proposal'],
    ...examinations.flatMap(({ subject, amplitudeUnit, indications }) =>
      indications.map((one) => [subject, ...findingCells(one, amplitudeUnit)])
    )
  ])

const findingCells = (
  one: Examination['indications'][number],
  unit: Examination['amplitudeUnit']
): readonly string[] => [
  one.id,
  one.zone,
  one.class,
  unit === 'notch' ? `${(100 * one.amplitude).toFixed(0)} % of the notch` : one.amplitude.toPrecision(4),
  one.angle_rad === 'unknown' ? 'unknown' : `${((one.angle_rad * 180) / Math.PI).toFixed(0)}°`,
  one.z_m === 'unknown' ? 'unknown' : `${(1000 * one.z_m).toFixed(2)} mm`,
  one.size.withheld.length > 0 ? 'withheld' : one.size.depth,
  one.proposal
]

const entryLines = (rows: readonly EntryRow[]): readonly string[] =>
  table([
    ['entry', 'kind', 'time', 'by', 'hash'],
    ...rows.map(({ seq, kind, body, hash }) => {
      const { at, by } = JSON.parse(body) as Entry
      return [String(seq), kind, at.time, by.name, hash.slice(0, 16)]
    })
  ])
