import { createHash } from 'node:crypto'
import { readFile } from 'node:fs/promises'
import { state, takeOver } from '@trueloop/host/decide'
import { Command } from 'commander'
import { unreadable } from '../terminal/unreadable.ts'
import { type Stating, signedBy, stateAs } from '../work/stating.ts'

const example = `
Examples:
  trueloop hand DEMO-1 --to "D. Other" --note "P01 to P09 scanned, recheck due at 14:00" --as "B. Two"
  trueloop hand DEMO-1 --take --as "D. Other"
  trueloop hand DEMO-1 --report report.pdf --to "the owner of the part" --as "B. Two"

A change of person is a reason for a recheck.`

interface Options extends Stating {
  readonly to?: string
  readonly note?: string
  readonly take?: boolean
  readonly report?: string
}

export const command = (): Command =>
  signedBy(
    new Command('hand')
      .description('Hands work to the next shift and takes it, or records that a report was delivered.')
      .argument('<job>', 'number of the job')
      .option('--to <name>', 'to whom')
      .option('--note <text>', 'what the next person has to know')
      .option('--take', 'take what was handed to you')
      .option('--report <file>', 'report that leaves the house')
  )
    .addHelpText('after', example)
    .action(run)

async function run(job: string, options: Options, self: Command): Promise<void> {
  const { to, note, take = false, report } = options
  if (take) return stateAs({ job, options }, takeOver)
  if (to === undefined || (note === undefined) === (report === undefined)) {
    return self.error('error: name --to, with --note for the next shift or with --report; or --take')
  }
  const digest = report === undefined ? undefined : await digestOf(report)
  if (digest !== undefined && typeof digest !== 'string') {
    return stateAs({ job, options }, async () => digest)
  }
  await stateAs({ job, options }, (signing) =>
    digest === undefined
      ? state({ kind: 'handed-over', to, note: note as string }, signing)
      : state({ kind: 'delivered', to, report: digest }, signing)
  )
}

async function digestOf(path: string) {
  try {
    return createHash('sha256')
      .update(await readFile(path))
      .digest('hex')
  } catch (error) {
    return unreadable(path, error)
  }
}
