import { Command } from 'commander'
import { exit } from '../exit.ts'
import { say } from '../terminal/say.ts'
import { outcomeLines } from '../terminal/summary.ts'
import { leadThrough } from '../work/chain.ts'

const example = `
Example:
  trueloop standardize job.yaml

Reads the reference scans and rechecks of the job sheet in their order. A failed recheck is recorded, and voids what was
scanned since the last good one.`

export const command = (): Command =>
  new Command('standardize')
    .description('Reads the scans of the reference standard: a standardization, or a recheck of the one in force.')
    .argument('<job-sheet>', 'job sheet, YAML or JSON')
    .option('--json', 'one JSON document, standardize/1, on standard output')
    .addHelpText('after', example)
    .action(async (path: string, { json = false }: { json?: boolean }) => {
      const { outcomes, refusals, interrupted, notes = [] } = await leadThrough(path, { onlySetUp: true })
      say({
        document: 'standardize/1',
        json,
        refusals,
        exit: interrupted ? exit.interrupted : undefined,
        waiting: outcomes.some((one) => one.did === 'recheck' && !one.passed),
        text: [...notes, ...outcomes.flatMap(outcomeLines)],
        data: { outcomes, interrupted, notes }
      })
    })
