import { resolve } from 'node:path'
import { isRefusal } from '@trueloop/ground/refusal'
import { sha256 } from '@trueloop/host/hash'
import { readPlainFile } from '@trueloop/host/sheet'
import { answersOf, type ClosedTrial, closeTrial, type ExaminedResults, runningTrialOf } from '@trueloop/job/prove'
import { Command } from 'commander'
import { say, table } from '../../terminal/say.ts'
import { save } from '../../work/saving.ts'
import { runningName } from '../../work/trial-files.ts'
import { examinedIn, type JobOf, jobOption } from '../../work/trial-jobs.ts'
import { resultsIn } from '../../work/trial-results.ts'
import { refused } from './refused.ts'

interface Closing {
  readonly answers: string
  readonly job?: readonly JobOf[]
  readonly out?: string
  readonly json?: boolean
}

export const closing = (): Command =>
  new Command('close')
    .description('Brings results and answers together.')
    .argument('<folder>', 'folder of the trial')
    .argument('[results...]', 'the filled orders, CSV: inspector, site, called, signal, at')
    .option('--job <number=inspector>', 'results from the record of a job; as often as needed', jobOption)
    .requiredOption('--answers <file>', 'the answers as they were put apart')
    .option('--out <file>', 'where sizes and calls go, JSON')
    .option('--json', 'one JSON document, prove/1, on standard output')
    .action(close)

async function close(
  folder: string,
  paths: readonly string[],
  { answers: from, job: jobs = [], out, json = false }: Closing
): Promise<void> {
  const running = await readPlainFile(resolve(folder, runningName), ofTrial)
  const answers = await readPlainFile(from, ofTrial)
  const given = await resultsIn(paths)
  const unread = [running, answers, given].flatMap((one) => ('refusals' in one ? one.refusals : []))
  if ('refusals' in running || 'refusals' in answers || 'refusals' in given) return refused(json, unread)
  const [trial, sealed] = [runningTrialOf(running.value), answersOf(answers.value)]
  const wrong = [
    ...('refusals' in trial ? trial.refusals.map(running.place) : []),
    ...('refusals' in sealed ? sealed.refusals.map(answers.place) : [])
  ]
  if ('refusals' in trial || 'refusals' in sealed) return refused(json, wrong)
  const examined = await examinedIn(jobs, trial.running)
  if ('refusals' in examined) return refused(json, examined.refusals)
  const results = [...given.results, ...examined.all.flatMap((one) => one.results)]
  const records = jobs.length === 0 ? {} : { records: examined.all.map((one) => one.from) }
  const closed = closeTrial({ running: trial.running, answers: sealed.answers, results, ...records }, sha256)
  if ('refusals' in closed) return refused(json, closed.refusals)
  const saved = out === undefined ? undefined : await save(out, `${JSON.stringify(closed, null, 1)}\n`)
  if (saved !== undefined && isRefusal(saved)) return refused(json, [saved])
  say({
    document: 'prove/1',
    json,
    refusals: [],
    waiting: closed.not_examined.length > 0,
    text: [
      ...closedText(closed),
      ...examined.all.flatMap(openText),
      ...(saved === undefined ? [] : [`written: ${saved}`])
    ],
    data: { closed, ...(saved === undefined ? {} : { file: saved }) }
  })
}

const openText = ({ from: { job }, open }: ExaminedResults): readonly string[] =>
  open.map(({ site, why }) => `  no result in job ${job}: ${site}: ${why}`)

const ofTrial = {
  needed: 'the trial and its answers as they were built',
  remedy: 'name the folder and the file that "prove build" wrote'
}

function closedText({ name, proves, kinds, not_examined: open }: ClosedTrial): readonly string[] {
  const rows = kinds.map(({ kind, rows: all }) => {
    const flaws = all.filter(({ size_mm }) => size_mm > 0)
    const blanks = all.filter(({ size_mm }) => size_mm === 0)
    const called = (some: typeof all) => String(some.filter((row) => row.called).length)
    return [kind, called(flaws), String(flaws.length), called(blanks), String(blanks.length)]
  })
  return [
    `trial closed: ${name}`,
    ...table([['kind', 'flaws called', 'of', 'blanks called', 'of'], ...rows]),
    `not examined: ${open.length}${open.length === 0 ? '' : '; they are neither hits nor misses'}`,
    proves
      ? 'what it proves is a question of its own: these are counts'
      : 'no real specimens: practice, it proves no capability'
  ]
}
