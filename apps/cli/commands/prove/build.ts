import { resolve } from 'node:path'
import { isRefusal } from '@trueloop/ground/refusal'
import { sha256 } from '@trueloop/host/hash'
import { readPlainFile } from '@trueloop/host/sheet'
import { buildTrial, type TrialInput, trialOf, trialWarnings } from '@trueloop/job/prove'
import { Command } from 'commander'
import { say } from '../../terminal/say.ts'
import { writeTrial } from '../../work/trial-files.ts'
import { refused } from './refused.ts'

interface Building {
  readonly into: string
  readonly answers: string
  readonly json?: boolean
}

export const building = (): Command =>
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
