import { isRefusal } from '@trueloop/ground/refusal'
import { Command } from 'commander'
import { progressLine } from '../terminal/progress.ts'
import { say } from '../terminal/say.ts'
import { wholeNumber } from '../work/numbers.ts'
import { makeRehearsal } from '../work/rehearsal.ts'

const example = `
Example:
  trueloop rehearse sample --seed 7 && trueloop examine sample/job.yaml

The recordings are simulated and marked as a demonstration; truth.json says what is really there.`

export const command = (): Command =>
  new Command('rehearse')
    .description('Makes a demonstration job: a job sheet and recordings with known truth.')
    .argument('<folder>', 'where to make it; must be empty or not there yet')
    .option('--seed <number>', 'the same number makes the same recordings', wholeNumber, 1)
    .option('--json', 'one JSON document, rehearse/1, on standard output')
    .addHelpText('after', example)
    .action(async (folder: string, { seed, json = false }: { seed: number; json?: boolean }) => {
      const progress = progressLine()
      const made = await makeRehearsal(folder, seed, progress.show)
      progress.clear()
      const said = { document: 'rehearse/1', json, refusals: [] }
      if (isRefusal(made)) return void say({ ...said, refusals: [made], text: [], data: {} })
      const how = made.before ? 'made before' : 'made'
      const text = [
        `${how}: ${made.sheet} and ${made.recordings.length} recordings`,
        'DEMONSTRATION: invented data, never to be signed off'
      ]
      say({ ...said, text, data: { ...made } })
    })
