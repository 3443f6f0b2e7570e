import { resolve } from 'node:path'
import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import { program } from '@trueloop/host/chain'
import { wallClock } from '@trueloop/host/clock'
import { sha256 } from '@trueloop/host/hash'
import { capabilityHtml, capabilityPdf } from '@trueloop/host/press'
import { readPlainFile } from '@trueloop/host/sheet'
import {
  againstTrial,
  answersOf,
  buildTrial,
  type ClosedTrial,
  closeTrial,
  type HitMissResult,
  proveHitMiss,
  runningTrialOf,
  type TrialInput,
  trialOf,
  trialWarnings
} from '@trueloop/job/prove'
import { Command } from 'commander'
import { say, table } from '../terminal/say.ts'
import { hitRows } from '../work/hit-rows.ts'
import { hitText } from '../work/hit-text.ts'
import { save } from '../work/saving.ts'
import { runningName, writeTrial } from '../work/trial-files.ts'
import { resultsIn } from '../work/trial-results.ts'

const example = `
Examples:
  trueloop prove build trial.yaml --into trial --answers ../kept/answers.json
  trueloop prove close trial --answers ../kept/answers.json trial/*.csv --out closed.json
  trueloop prove hits study.yaml closed.json --kind corner

Sizes and the places that hold nothing are kept apart until the trial is closed. A place that was not examined is neither
hit nor miss. Only real specimens prove a capability; notches and simulation never do.`

export const command = (): Command =>
  new Command('prove')
    .description('Builds a blind trial of what a technique and its people find, closes it, and says what it shows.')
    .addCommand(building())
    .addCommand(closing())
    .addCommand(counting())
    .addHelpText('after', example)

interface Building {
  readonly into: string
  readonly answers: string
  readonly json?: boolean
}

const building = (): Command =>
  new Command('build')
    .description('Draws an order for each inspector, and puts the answers apart.')
    .argument('<trial-file>', 'the trial, YAML or JSON: places with their sizes, inspectors, seed')
    .requiredOption('--into <folder>', 'where the trial goes that inspectors may see')
    .requiredOption('--answers <file>', 'where the answers go, apart from it')
    .option('--json', 'one JSON document, prove/1, on standard output')
    .action(build)

async function build(path: string, { into, answers: to, json = false }: Building): Promise<void> {
  const file = await readPlainFile(path, {
    needed: 'a trial, YAML or JSON in UTF-8',
    remedy: 'correct the path, or the text at this place; the operator guide has a trial to begin with'
  })
  if ('refusals' in file) return refused(json, file.refusals)
  const read = trialOf(file.value)
  if ('refusals' in read) return refused(json, read.refusals.map(file.place))
  const { running, answers } = buildTrial(read.trial, sha256)
  const files = await writeTrial(running, answers, { folder: resolve(into), to: resolve(to) })
  if (isRefusal(files)) return refused(json, [files])
  const warnings = trialWarnings(read.trial)
  say({
    document: 'prove/1',
    json,
    refusals: [],
    text: [
      `trial: ${files.running}, ${read.trial.sites.length} places, ${running.orders.length} inspectors`,
      ...files.orders.map((order) => `order: ${order}`),
      `answers: ${files.answers}; keep them from everybody who examines, until the trial is closed`,
      ...notReal(read.trial),
      ...warnings.map(({ kind, found, what_to_do }) => `${kind}: ${found}; ${what_to_do}`)
    ],
    data: { files, warnings }
  })
}

const notReal = ({ specimens }: TrialInput): readonly string[] =>
  specimens === 'real' ? [] : [`${specimens} only: this trial is practice, it proves no capability`]

interface Closing {
  readonly answers: string
  readonly out?: string
  readonly json?: boolean
}

const closing = (): Command =>
  new Command('close')
    .description('Brings results and answers together.')
    .argument('<folder>', 'folder of the trial')
    .argument('<results...>', 'the filled orders, CSV: inspector, site, called, signal')
    .requiredOption('--answers <file>', 'the answers as they were put apart')
    .option('--out <file>', 'where sizes and calls go, JSON')
    .option('--json', 'one JSON document, prove/1, on standard output')
    .action(close)

async function close(
  folder: string,
  paths: readonly string[],
  { answers: from, out, json = false }: Closing
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
  const closed = closeTrial({ running: trial.running, answers: sealed.answers, results: given.results }, sha256)
  if ('refusals' in closed) return refused(json, closed.refusals)
  const saved = out === undefined ? undefined : await save(out, `${JSON.stringify(closed, null, 1)}\n`)
  if (saved !== undefined && isRefusal(saved)) return refused(json, [saved])
  say({
    document: 'prove/1',
    json,
    refusals: [],
    waiting: closed.not_examined.length > 0,
    text: [...closedText(closed), ...(saved === undefined ? [] : [`written: ${saved}`])],
    data: { closed, ...(saved === undefined ? {} : { file: saved }) }
  })
}

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

const refused = (json: boolean, refusals: readonly Refusal[]): void =>
  void say({ document: 'prove/1', json, refusals, text: [], data: {} })

interface Counting {
  readonly unit?: string
  readonly kind?: string
  readonly out?: string
  readonly report?: string
  readonly json?: boolean
}

const counting = (): Command =>
  new Command('hits')
    .description('Says what size is found, by hits and misses, with the bounds of several methods.')
    .argument('<study-file>', 'what is asked, YAML or JSON: fixed before the trial')
    .argument('<rows>', 'a closed trial (.json), or a table (CSV): size, hit, specimen; flaw, inspector, unit')
    .option('--unit <unit>', 'unit of the sizes, where the table has no column for it')
    .option('--kind <kind>', 'of a closed trial: corner, mid-bore or through')
    .option('--out <file>', 'where the result goes, JSON: it can be worked out again from that and the rows')
    .option('--report <file>', 'the same as a report, .html or .pdf')
    .option('--json', 'one JSON document, prove/1, on standard output')
    .action(hits)

async function hits(path: string, table: string, { unit, kind, out, report, json = false }: Counting): Promise<void> {
  const study = await readPlainFile(path, {
    needed: 'a study, YAML or JSON in UTF-8',
    remedy: 'correct the path, or the text at this place; the operator guide has a study to begin with'
  })
  if ('refusals' in study) return refused(json, study.refusals)
  const given = await hitRows(table, { unit, kind })
  if ('refusals' in given) return refused(json, given.refusals)
  const stranger = againstTrial(study.value, given.isReal)
  if (stranger !== undefined) return refused(json, [study.place(stranger)])
  const result = proveHitMiss(study.value, given.rows, { hash: sha256, program: `${program.name} ${program.version}` })
  if (isRefusal(result)) return refused(json, [study.place(result)])
  const files: string[] = []
  const refusals: Refusal[] = []
  for (const [to, content] of await contentsOf(result, { out, report })) {
    const saved = typeof content !== 'string' && isRefusal(content) ? content : await save(to, content)
    if (isRefusal(saved)) refusals.push(saved)
    else files.push(saved)
  }
  const text = [...hitText(result), ...files.map((file) => `written: ${file}`)]
  const data = { result, files }
  say({ document: 'prove/1', json, refusals, waiting: isRefusal(result.stated_m), text, data })
}

interface Written {
  readonly out: string | undefined
  readonly report: string | undefined
}

/** What is to be written, and where. */
async function contentsOf(
  result: HitMissResult,
  { out, report }: Written
): Promise<readonly (readonly [string, Result<string | Uint8Array>])[]> {
  const printed = wallClock()
  const page = (to: string) => (/\.pdf$/i.test(to) ? capabilityPdf(result, printed) : capabilityHtml(result, printed))
  return [
    ...(out === undefined ? [] : [[out, `${JSON.stringify(result, null, 1)}\n`] as const]),
    ...(report === undefined ? [] : [[report, await page(report)] as const])
  ]
}
