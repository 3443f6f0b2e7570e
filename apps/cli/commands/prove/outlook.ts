import { readPlainFile } from '@trueloop/host/sheet'
import {
  flawKindsOf,
  type Outlook,
  type OutlookRow,
  outlookOf,
  outlookRow,
  percent,
  trialOf
} from '@trueloop/job/prove'
import { Command } from 'commander'
import { say, table } from '../../terminal/say.ts'
import { positive } from '../../work/numbers.ts'
import { refused } from './refused.ts'

interface Options {
  readonly half: number
  readonly nearlyAll: number
  readonly least: number
  readonly most: number
  readonly json?: boolean
}

export const looking = (): Command =>
  new Command('outlook')
    .description('Says what trials of several sizes would show, if what is expected comes true.')
    .argument('[trial-file]', 'a trial, YAML or JSON: what its own flaws would show')
    .requiredOption('--half <mm>', 'size that is expected to be found in half of cases', positive)
    .requiredOption('--nearly-all <mm>', 'size that is expected to be found in 90 % of cases', positive)
    .requiredOption('--least <mm>', 'smallest flaw that can be had', positive)
    .requiredOption('--most <mm>', 'largest flaw that can be had', positive)
    .option('--json', 'one JSON document, prove/1, on standard output')
    .action(look)

async function look(path: string | undefined, options: Options, self: Command): Promise<void> {
  const { half: a50_mm, nearlyAll: a90_mm, least: least_mm, most: most_mm, json = false } = options
  if (!(a50_mm < a90_mm && least_mm < most_mm))
    self.error('error: --half lies below --nearly-all, --least below --most')
  const own = await ownOf(path, { a50_mm, a90_mm })
  if ('refusals' in own) return refused(json, own.refusals)
  const outlook = outlookOf({ a50_mm, a90_mm, least_mm, most_mm })
  say({
    ...{ document: 'prove/1', json, refusals: [] },
    text: [
      `expected: half found at ${a50_mm} mm, 90 % at ${a90_mm} mm; sizes in equal ratios from ${least_mm} to ${most_mm} mm`,
      ...outlookText(outlook),
      ...own.rows.map(({ kind, row }) => `this trial, ${kind}: ${row.flaws} flaws; ${rowText(row)}`),
      'A plan, no result: a trial shows what it shows.'
    ],
    data: { outlook, own: own.rows }
  })
}

async function ownOf(path: string | undefined, expected: { readonly a50_mm: number; readonly a90_mm: number }) {
  if (path === undefined) return { rows: [] }
  const file = await readPlainFile(path, {
    needed: 'a trial, YAML or JSON in UTF-8',
    remedy: 'correct the path, or the text at this place; the operator guide has a trial to begin with'
  })
  if ('refusals' in file) return file
  const read = trialOf(file.value)
  if ('refusals' in read) return { refusals: read.refusals.map(file.place) }
  const kinds = flawKindsOf(read.trial)
  return {
    rows: kinds.map(({ kind, sizes_mm }) => ({ kind, row: outlookRow(sizes_mm, expected) }))
  }
}

const outlookText = ({ rows, blanks, demonstrations }: Outlook): readonly string[] => [
  ...table([
    ['flaws', 'by hits, 90 % with 95 %', 'by signals, 90 % with 95 %'],
    ...rows.map((row) => [String(row.flaws), hitsText(row), signalsText(row)])
  ]),
  ...table([
    ['blanks', 'false calls at most, where nothing is called'],
    ...blanks.map(({ blanks: count, upper }) => [String(count), percent(upper, 1)])
  ]),
  ...table([
    ['flaws of one size', 'misses', 'chance of passing at 98 %'],
    ...demonstrations.map(({ flaws, misses, passes }) => [...[String(flaws), String(misses), percent(passes, 1)]])
  ])
]

/** Below it a trial most often shows nothing. */
const LEAST_ERRORS = 1.645

const hitsText = ({ hits_mm, slopeInErrors = 0 }: OutlookRow): string =>
  hits_mm === undefined || slopeInErrors < LEAST_ERRORS ? 'most often nothing' : `${hits_mm.toFixed(2)} mm`
const signalsText = ({ signals_mm }: OutlookRow): string =>
  signals_mm === undefined ? 'nothing' : `${signals_mm.toFixed(2)} mm`
const rowText = (row: OutlookRow): string => `by hits ${hitsText(row)}, by signals ${signalsText(row)}`
