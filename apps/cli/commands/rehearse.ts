import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import { sha256 } from '@trueloop/host/hash'
import { readSheetFile } from '@trueloop/host/sheet'
import { canonical } from '@trueloop/job/record'
import { MOST_HOLES, practiceOf } from '@trueloop/job/rehearse'
import { Command } from 'commander'
import { dataFolder } from '../home.ts'
import { progressLine } from '../terminal/progress.ts'
import { say } from '../terminal/say.ts'
import { wholeNumber } from '../work/numbers.ts'
import { makeRehearsal, type Rehearsal, type Staging } from '../work/rehearsal.ts'
import { diskShelf } from '../work/shelf.ts'

const example = `
Examples:
  trueloop rehearse sample --seed 7 && trueloop examine sample/job.yaml
  trueloop rehearse practice --for job.yaml --seed 3

The recordings are simulated and marked as a demonstration; truth.json says what is really there. With --for they are made
for the technique of that job sheet: its holes (the first ${MOST_HOLES}), speed and pitch, and its probe by the field of its windings.`

interface Options {
  readonly seed: number
  readonly for?: string
  readonly json?: boolean
}

export const command = (): Command =>
  new Command('rehearse')
    .description('Makes a demonstration job: a job sheet and recordings with known truth.')
    .argument('<folder>', 'where to make it; must be empty or not there yet')
    .option('--seed <number>', 'the same number makes the same recordings', wholeNumber, 1)
    .option('--for <job-sheet>', 'make practice for the technique of this job sheet, by the field of its probe')
    .option('--json', 'one JSON document, rehearse/1, on standard output')
    .addHelpText('after', example)
    .action(rehearse)

async function rehearse(folder: string, { seed, for: path, json = false }: Options): Promise<void> {
  const progress = progressLine()
  const staged = path === undefined ? undefined : await stagingFor(path, seed, progress.show)
  const said = { document: 'rehearse/1', json, refusals: [] as readonly Refusal[] }
  if (staged !== undefined && 'refusals' in staged) {
    progress.clear()
    return void say({ ...said, refusals: staged.refusals, text: [], data: {} })
  }
  const made: Result<Rehearsal> = await makeRehearsal(folder, seed, progress.show, staged)
  progress.clear()
  if (isRefusal(made)) return void say({ ...said, refusals: [made], text: [], data: {} })
  const modeled = staged?.modeled ?? []
  const text = [
    `${made.before ? 'made before' : 'made'}: ${made.sheet} and ${made.recordings.length} recordings`,
    ...modeled,
    'DEMONSTRATION: invented data, never to be signed off'
  ]
  say({ ...said, text, data: { ...made, ...(staged === undefined ? {} : { modeled }) } })
}

async function stagingFor(
  path: string,
  seed: number,
  tell: (text: string) => void
): Promise<Staging | { readonly refusals: readonly Refusal[] }> {
  const read = await readSheetFile(path)
  if ('refusals' in read) return read
  tell('working out the field')
  const shelf = diskShelf(dataFolder())
  const practice = practiceOf(read.sheet, seed, shelf)
  if (isRefusal(practice)) return { refusals: [practice] }
  return { ...practice, shelf, of: sha256(canonical(read.sheet)) }
}
