import { join } from 'node:path'
import { isRefusal, type Refusal } from '@trueloop/ground/refusal'
import { makeFolder } from '@trueloop/host/folder'
import { demoPassphrase, demoPeople } from '@trueloop/job/rehearse'
import { Command } from 'commander'
import { exit } from '../exit.ts'
import { demoFolder } from '../home.ts'
import { outcome } from '../terminal/process.ts'
import { progressLine } from '../terminal/progress.ts'
import { line, say } from '../terminal/say.ts'
import { summaryText } from '../terminal/summary.ts'
import { leadThrough, sheetInput } from '../work/chain.ts'
import { type DemoShop, makeDemoShop } from '../work/demo-shop.ts'
import { portNumber, wholeNumber } from '../work/numbers.ts'
import { makeRehearsal, makeSpares } from '../work/rehearsal.ts'
import { serveRecord } from '../work/serving.ts'
import { makeWeldRehearsal } from '../work/weld-rehearsal.ts'
import { writeReport } from './report.ts'

const example = `
Examples:
  trueloop demo
  trueloop demo --once

Done again, it goes on where it stopped and records nothing twice.`

interface Options {
  readonly once?: boolean
  readonly seed: number
  readonly port: number
}

export const command = (): Command =>
  new Command('demo')
    .description(
      'Makes two demonstration jobs (holes; a painted weld), standardizes, examines every place, writes the reports, and shows the record.'
    )
    .option('--once', 'do all, and exit')
    .option('--seed <number>', 'the same number makes the same recordings', wholeNumber, 1)
    .option('--port <number>', 'port to begin with; a taken one moves on', portNumber, 4270)
    .addHelpText('after', example)
    .action(demo)

async function demo({ once = false, seed, port }: Options): Promise<void> {
  const home = demoFolder()
  const progress = progressLine()
  const made = await makeRehearsal(join(home, `demonstration-${seed}`), seed, progress.show)
  progress.clear()
  if (isRefusal(made)) return refused([made])
  const input = await sheetInput(made.sheet)
  if ('refusals' in input) return refused(input.refusals)
  const shop = await makeDemoShop(home, input)
  if (isRefusal(shop)) return refused([shop])
  const led = await leadThrough(made.sheet, {}, { home })
  if (led.interrupted) return void Object.assign(outcome, { exit: exit.interrupted })
  const { summary } = led
  if (led.refusals.length > 0 || summary === undefined) return refused(led.refusals)
  const report = await writeReport(summary.job, { home })
  if (report.refusals.length > 0) return refused(report.refusals)
  for (const text of [...summaryText(summary), `report: ${report.file}`, `job sheet: ${made.sheet}`]) line(text)
  const weld = await weldJob(home, seed)
  if ('refusals' in weld) return refused(weld.refusals)
  if (weld.interrupted) return void Object.assign(outcome, { exit: exit.interrupted })
  for (const text of [...weld.lines, ...peopleText(shop as DemoShop)]) line(text)
  if (once) return
  const demonstration = shop === 'people' ? { demonstration: { passphrase: demoPassphrase } } : {}
  const watch = join(home, 'watched')
  await makeFolder(watch)
  const spares = join(home, `spare-${seed}`)
  const no = await makeSpares(spares, seed)
  if (no !== undefined) return refused([no])
  line(`watched for recordings: ${watch}; to try it, copy one of ${spares} there`)
  await serveRecord({
    home,
    port,
    watch,
    path: `/jobs/${encodeURIComponent(summary.job)}`,
    browse: true,
    ...demonstration
  })
}

type WeldJob =
  | { readonly refusals: readonly Refusal[] }
  | { readonly lines: readonly string[]; readonly interrupted: boolean }

/** The same for a painted weld, beside the holes. */
async function weldJob(home: string, seed: number): Promise<WeldJob> {
  const progress = progressLine()
  const sheet = await makeWeldRehearsal(join(home, `demonstration-weld-${seed}`), seed, progress.show)
  progress.clear()
  if (isRefusal(sheet)) return { refusals: [sheet] }
  const input = await sheetInput(sheet as string)
  if ('refusals' in input) return { refusals: input.refusals }
  const shop = await makeDemoShop(home, input)
  if (isRefusal(shop)) return { refusals: [shop] }
  const { refusals, summary, interrupted } = await leadThrough(sheet as string, {}, { home })
  if (interrupted) return { lines: [], interrupted }
  if (refusals.length > 0 || summary === undefined) return { refusals }
  const report = await writeReport(summary.job, { home })
  if (report.refusals.length > 0) return { refusals: report.refusals }
  const lines = ['', ...summaryText(summary), `report: ${report.file}`, `job sheet: ${sheet}`, '']
  return { lines, interrupted }
}

/** No secret: the keys that it opens are invented. */
const peopleText = (shop: DemoShop): readonly string[] =>
  shop === 'people'
    ? [
        `may sign, all invented: ${demoPeople.map(({ name, level }) => `${name}, level ${level}`).join('; ')}`,
        `passphrase of each of them: ${demoPassphrase}`
      ]
    : ['nobody can sign here: other jobs without registers lie in this data folder; TRUELOOP_HOME names an empty one']

const refused = (refusals: readonly Refusal[]): void =>
  void say({ document: 'demo/1', json: false, refusals, text: [], data: {} })
